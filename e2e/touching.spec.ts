import { expect, type Page, test } from '@playwright/test';
import { unzipSync } from 'fflate';
import type { Job } from '../src/index.ts';
import { obj } from '../test/support/mesh-files.ts';
import { box, fanned, legged, together } from '../test/support/simple-solids.ts';
import { isClosedStl } from '../test/support/stl-check.ts';
import { bytesOf, drop, openBare, savedJob, settled } from './bench-page.ts';
import { stlFile } from './figure-files.ts';

/** A stand of 40 × 30 mm and a post of 20 × 16 on it: invented. */
const STAND = box([-20, -15, -18], [20, 15, 0]);
const POST = box([-10, -8, 0], [10, 8, 30]);
const SHARED = '320.0';

/** An object whose faces count from the vertices before it. */
const further = (text: string): string =>
  text.replace(/^f .*/gm, (face) => face.replace(/\d+/g, (n) => `${Number(n) + STAND.vertices.length}`));
const oneFile = () => Buffer.from(`o stand\n${obj(STAND)}\no post\n${further(obj(POST))}\n`);

async function opened(page: Page, files: { name: string; buffer: Buffer }[]): Promise<void> {
  await openBare(page);
  await drop(page, files);
  await expect(page.getByTestId('status')).toContainText(files[0].name);
  await settled(page);
}

async function expectJoined(page: Page): Promise<void> {
  await settled(page);
  await expect(page.getByTestId('seam-area')).toHaveText(SHARED);
  await expect(page.getByTestId('face-peg-0')).toBeVisible();
  await expect(page.getByRole('button', { name: /^Join / })).toHaveCount(0);
  const { seams } = (await savedJob(page)) as Job;
  expect(seams.map(({ by }) => by)).toEqual([{ kind: 'contact', bodies: expect.any(Array) }]);
  expect(seams[0].joints.length).toBe(1);
}

test('two bodies of one file that touch are joined by mouse, from open to export', async ({ page }) => {
  await opened(page, [{ name: 'lamp.obj', buffer: oneFile() }]);
  await page.getByRole('button', { name: 'Join post and stand where they touch' }).click();
  await expectJoined(page);
  await expect(page.getByTestId('seam-handle')).toHaveCount(0);
  await expect(page.getByText('nothing is cut')).toBeVisible();
  // The peg is moved by hand as on any seam.
  const before = ((await savedJob(page)) as Job).seams[0].joints[0].at;
  expect(before).toBe('auto');
  const peg = await page.getByTestId('face-peg-0').boundingBox();
  const at = { x: peg!.x + peg!.width / 2, y: peg!.y + peg!.height / 2 };
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.mouse.move(at.x + 20, at.y, { steps: 5 });
  await page.mouse.up();
  await settled(page);
  const [joint] = ((await savedJob(page)) as Job).seams[0].joints;
  expect(joint.at).not.toBe('auto');
  expect(Math.abs(Number(joint.at[2]))).toBeLessThan(1e-3);

  await page.getByRole('button', { name: 'Export…' }).click();
  const download = page.waitForEvent('download');
  await page.getByTestId('export-all').click();
  const archive = unzipSync(await bytesOf(await download));
  const parts = Object.entries(archive).filter(([name]) => name.endsWith('.stl'));
  expect(parts.map(([name]) => name).sort()).toEqual(['lamp-post.stl', 'lamp-stand.stl']);
  await page.keyboard.press('Escape');
  for (const [, bytes] of parts) expect(isClosedStl(bytes).closed).toBe(true);

  // Undo takes the seam away again, and with it comes the offer.
  for (let steps = 0; steps < 2; steps++) await page.getByRole('button', { name: 'Undo' }).click();
  await settled(page);
  await expect(page.getByRole('button', { name: 'Join post and stand where they touch' })).toBeVisible();
});

test('two files whose bodies touch are joined by keyboard', async ({ page }) => {
  await opened(page, [
    { name: 'stand.stl', buffer: stlFile(fanned(STAND)) },
    { name: 'post.stl', buffer: stlFile(fanned(POST)) },
  ]);
  const join = page.getByRole('button', { name: /^Join .* where they touch$/ });
  await join.focus();
  await page.keyboard.press('Enter');
  await expectJoined(page);
  // The seam that was added has the focus; the peg goes to the other body and back by keys.
  await page.getByTestId('face-peg-0').focus();
  await page.keyboard.press('ArrowRight');
  await settled(page);
  expect(((await savedJob(page)) as Job).seams[0].joints[0].at).not.toBe('auto');
  await page.keyboard.press('Control+z');
  await settled(page);
  expect(((await savedJob(page)) as Job).seams[0].joints[0].at).toBe('auto');
});

test('of a seam with faces of two heights each is shown in turn, and has its peg', async ({ page }) => {
  const bar = legged();
  const positions = bar.positions.slice();
  for (let i = 0; i < positions.length; i += 3)
    if (positions[i] > 0 && positions[i + 2] === -20) positions[i + 2] += 0.03;
  const figure = together(fanned(box([-40, -15, -40], [40, 15, -20])), { ...bar, positions });
  await opened(page, [{ name: 'bar.stl', buffer: stlFile(figure) }]);
  await page.getByRole('button', { name: /where they touch$/ }).click();
  await settled(page);
  const face = page.getByRole('button', { name: /^Face \d of 2: show the next$/ });
  const first = await page.getByTestId('face-outline').getAttribute('d');
  await expect(face).toHaveText('Face 1 of 2');
  await expect(page.getByTestId(/^face-peg-\d+$/)).toHaveCount(1);
  await face.press('Enter');
  await expect(face).toHaveText('Face 2 of 2');
  await expect(page.getByTestId(/^face-peg-\d+$/)).toHaveCount(1);
  expect(await page.getByTestId('face-outline').getAttribute('d')).not.toBe(first);
  // A peg chosen in the list brings its own face.
  await page
    .getByRole('button', { name: /^Peg 1/ })
    .first()
    .click();
  await expect(face).toHaveText('Face 1 of 2');
});
