import { expect, type Page, test } from '@playwright/test';
import type { Job } from '../src/index.ts';
import { icosphere } from '../test/support/figures.ts';
import { drop, openBare, savedJob, settled as settledOnFace } from './bench-page.ts';
import { stlFile } from './figure-files.ts';

/** Two spheres that overlap, of 15 mm and of 12: invented. */
function ball(radius: number, up: number) {
  const { positions, triangles } = icosphere(4);
  return { positions: positions.map((v, i) => v * radius + (i % 3 === 2 ? up : 0)), triangles };
}

/** Waits until nothing is being worked out: these bodies have no face to wait for. */
async function settled(page: Page): Promise<void> {
  await expect(page.getByTestId('nest-facts')).toBeVisible();
  await expect(page.getByTestId('nest-facts')).not.toHaveAttribute('data-stale');
  await expect(page.getByTestId('busy')).toHaveCount(0);
}

async function joined(page: Page): Promise<void> {
  await openBare(page);
  await drop(page, [
    { name: 'shell.stl', buffer: stlFile(ball(15, 0)) },
    { name: 'knob.stl', buffer: stlFile(ball(12, 20)) },
  ]);
  await expect(page.getByTestId('status')).toContainText('shell.stl');
  await settledOnFace(page);
  await page.getByRole('button', { name: /^Join .* where they overlap$/ }).click();
  await settled(page);
}

const seamOf = async (page: Page) => ((await savedJob(page)) as Job).seams[0];

test('of two bodies that overlap it is told which gives way, the other is let to, and a gap is asked for', async ({
  page,
}) => {
  await joined(page);
  const facts = page.getByTestId('nest-facts');
  await expect(facts).toContainText('shell gives way to knob and loses');
  expect(await seamOf(page)).toMatchObject({
    by: { kind: 'contact', bodies: ['knob', 'shell'] },
    joints: [],
  });

  await page.getByRole('button', { name: /Gives way/ }).click();
  await page.getByRole('option', { name: 'knob' }).click();
  await settled(page);
  await expect(facts).toContainText('knob gives way to shell');
  expect((await seamOf(page)).by).toMatchObject({ gives: 'knob' });

  const gap = page.getByRole('textbox', { name: 'Gap between them' });
  await gap.fill('0,2');
  await gap.press('Enter');
  await settled(page);
  await expect(facts).toContainText('Gap measured: 0.200 to 0.200 mm, at the outer edge up to 0.000 mm.');
  const rim = page.getByRole('textbox', { name: 'Gap closes within' });
  await rim.fill('0');
  await rim.press('Enter');
  await settled(page);
  await expect(facts).toContainText('at the outer edge up to 0.200 mm');
  expect((await seamOf(page)).by).toMatchObject({ gives: 'knob', nestGapMm: 0.2, rimMm: 0 });

  for (let steps = 0; steps < 3; steps++) await page.getByRole('button', { name: 'Undo' }).click();
  await settled(page);
  await expect(facts).toContainText('shell gives way to knob');
  expect((await seamOf(page)).by).toEqual({ kind: 'contact', bodies: ['knob', 'shell'] });
  await page.getByRole('button', { name: 'Redo' }).click();
  await settled(page);
  await expect(facts).toContainText('knob gives way to shell');
});

test('a flat is set across them by keyboard, a peg stands on it, and it is moved', async ({ page }) => {
  await joined(page);
  await page.getByRole('button', { name: 'Set a flat across for a peg' }).focus();
  await page.keyboard.press('Enter');
  await settled(page);
  await expect(page.getByTestId('face-peg-0')).toBeVisible();
  await expect(page.getByTestId('seam-handle')).toHaveCount(1);
  const area = Number(await page.getByTestId('seam-area').textContent());
  expect(area).toBeGreaterThan(120);
  const before = (await seamOf(page)).by;

  const offset = page.getByRole('textbox', { name: 'Offset' });
  await offset.fill('9');
  await offset.press('Enter');
  await settled(page);
  expect((await seamOf(page)).by).toMatchObject({ flat: { at: [0, 0, 9], normal: [0, 0, 1] } });
  expect(Number(await page.getByTestId('seam-area').textContent())).toBeLessThan(area - 30);

  await page.getByRole('button', { name: 'Undo' }).click();
  await settled(page);
  expect((await seamOf(page)).by).toEqual(before);
  await page.getByRole('button', { name: 'Remove the flat' }).click();
  await settled(page);
  expect((await seamOf(page)).by).toEqual({ kind: 'contact', bodies: ['knob', 'shell'] });
});
