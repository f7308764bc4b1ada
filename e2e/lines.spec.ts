import { expect, type Page, test } from '@playwright/test';
import type { Job } from '../src/index.ts';
import { box, fanned } from '../test/support/simple-solids.ts';
import { openFigure, savedJob, settled } from './bench-page.ts';
import { stlFile } from './figure-files.ts';

/** A block 60 mm wide, 30 mm deep and 40 mm high. */
const block = () => stlFile(fanned(box([-30, -15, 0], [30, 15, 40])));

async function seamOf(page: Page) {
  const [seam] = ((await savedJob(page)) as Job).seams;
  if (seam?.by.kind !== 'sheet') throw new Error(`the seam is by ${seam?.by.kind}`);
  return { ...seam, by: seam.by };
}

async function begin(page: Page): Promise<(x: number, y: number) => Promise<void>> {
  await openFigure(page, 'block.stl', block());
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  await page.getByRole('button', { name: 'Draw a line over the figure' }).click();
  await expect(page.getByText('Click where the line begins')).toBeVisible();
  const bench = await page.getByTestId('bench').boundingBox();
  if (!bench) throw new Error('no bench');
  return (x, y) => page.mouse.click(bench.x + bench.width * x, bench.y + bench.height * y);
}

test('a line is drawn over the figure and the seam swept from it, its points moved, added, taken away and undone', async ({
  page,
}) => {
  const click = await begin(page);
  await click(0.2, 0.55);
  await click(0.4, 0.55);
  await expect(page.getByText('2 points')).toBeVisible();
  await click(0.55, 0.3);
  await page.keyboard.press('Backspace');
  await expect(page.getByText('2 points')).toBeVisible();
  await click(0.5, 0.45);
  await click(0.85, 0.45);
  await page.keyboard.press('Enter');
  await settled(page);
  const drawn = await seamOf(page);
  expect(drawn.by.line.length).toBe(4);
  expect(drawn.joints.every(({ at }) => at === 'auto')).toBe(true);
  // It is swept the way one looked: from the front left, a little above.
  expect(drawn.by.along[1]).toBeLessThan(-0.7);
  await expect(page.getByTestId('status')).not.toContainText('error');
  await expect(page.getByRole('button', { name: /^Face \d of 3/ })).toBeVisible();

  const third = page.getByTestId('bench').getByRole('button', { name: 'Point 3 of 4' });
  const at = await third.boundingBox();
  if (!at) throw new Error('no point');
  await page.mouse.move(at.x + 8, at.y + 8);
  await page.mouse.down();
  await page.mouse.move(at.x + 8, at.y - 12, { steps: 5 });
  await page.keyboard.down('Shift');
  await page.mouse.up();
  await page.keyboard.up('Shift');
  await settled(page);
  const moved = await seamOf(page);
  expect(moved.by.line[2]![2]).toBeGreaterThan(drawn.by.line[2]![2] + 1);
  expect(moved.by.line.filter((_, i) => i !== 2)).toEqual(drawn.by.line.filter((_, i) => i !== 2));

  await page.getByRole('button', { name: 'Add a point on run 3' }).click();
  await settled(page);
  expect((await seamOf(page)).by.line.length).toBe(5);
  for (let step = 0; step < 3; step++) {
    await page.getByRole('button', { name: 'Undo' }).click();
    await settled(page);
  }
  expect(((await savedJob(page)) as Job).seams[0]?.by.kind).toBe('plane');
});

test('Escape leaves the line undrawn, and one point is not enough', async ({ page }) => {
  const click = await begin(page);
  await click(0.2, 0.5);
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('message')).toContainText('A line needs two points');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('button', { name: 'Draw a line over the figure' })).toBeVisible();
  expect(((await savedJob(page)) as Job).seams[0]?.by.kind).toBe('plane');
});

test('points are moved by keys and numbers, runs made smooth, and a flat given to a peg', async ({
  page,
}) => {
  const click = await begin(page);
  await click(0.15, 0.6);
  await click(0.5, 0.42);
  await click(0.9, 0.55);
  await page.getByRole('button', { name: 'Done' }).press('Enter');
  await settled(page);
  const before = (await seamOf(page)).by;
  const second = page.getByTestId('bench').getByRole('button', { name: 'Point 2 of 3' });
  await second.focus();
  await second.press('Shift+ArrowUp');
  await settled(page);
  const up = (await seamOf(page)).by;
  expect(Math.hypot(...up.line[1]!.map((c, k) => c - before.line[1]![k]!))).toBeCloseTo(1, 2);
  const field = page.getByRole('textbox', { name: 'Point X' });
  await field.fill('0');
  await field.press('Enter');
  await settled(page);
  expect((await seamOf(page)).by.line[1]![0]).toBe(0);

  await page.getByRole('button', { name: /The line runs/ }).click();
  await page.getByRole('option', { name: 'As a smooth curve' }).click();
  await expect(page.getByRole('region', { name: 'Findings' })).toContainText('curved all along');
  const flat = page.getByRole('textbox', { name: 'Flat here, wide' });
  await flat.fill('14');
  await flat.press('Enter');
  await settled(page);
  await expect(page.getByRole('region', { name: 'Findings' })).not.toContainText('curved all along');
  const { by } = await seamOf(page);
  expect(by.flats).toEqual([{ at: by.line[1], widthMm: 14 }]);
});
