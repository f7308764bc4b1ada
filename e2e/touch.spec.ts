import { expect, type Page, test } from '@playwright/test';
import type { Job } from '../src/index.ts';
import { middleOf, openFigure, savedJob, settled } from './bench-page.ts';
import { blockStl } from './figure-files.ts';

test.use({ hasTouch: true });

/** A finger put down at one place, moved by an offset in small steps, and lifted. */
async function slide(
  page: Page,
  from: { x: number; y: number },
  by: { x: number; y: number },
): Promise<void> {
  const session = await page.context().newCDPSession(page);
  const touch = (type: 'touchStart' | 'touchMove', share: number) =>
    session.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: [{ x: from.x + by.x * share, y: from.y + by.y * share }],
    });
  await touch('touchStart', 0);
  for (let step = 1; step <= 8; step++) await touch('touchMove', step / 8);
  await session.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  await session.detach();
}

const pegs = (page: Page) => page.getByTestId('face-drawing').getByRole('button', { name: /^Peg \d/ });

test('a finger sets a peg on the face, moves it there, and moves the seam by its handle', async ({
  page,
}) => {
  await openFigure(page, 'block.stl', blockStl());
  await page.getByRole('button', { name: 'Add peg' }).tap();
  const face = (await page.getByTestId('face-outline').boundingBox())!;
  await page.touchscreen.tap(face.x + face.width * 0.85, face.y + face.height / 2);
  await expect(pegs(page)).toHaveCount(2);
  await settled(page);

  const placed = await savedJob(page);
  const peg = (await pegs(page).nth(1).boundingBox())!;
  const at = { x: peg.x + peg.width / 2, y: peg.y + peg.height / 2 };
  await slide(page, at, { x: 0, y: -face.height / 5 });
  await settled(page);
  // The drawing comes after the hand, a frame or two later.
  const middle = async () => {
    const box = (await pegs(page).nth(1).boundingBox())!;
    return box.y + box.height / 2;
  };
  await expect.poll(middle).toBeLessThan(at.y - face.height / 8);
  await page.getByRole('button', { name: 'Undo' }).tap();
  await settled(page);
  expect(await savedJob(page)).toEqual(placed);

  const seam = page.getByRole('slider', { name: 'Move the seam' });
  const before = Number(await seam.getAttribute('aria-valuenow'));
  await slide(page, await middleOf(page, 'seam-handle'), { x: 0, y: -25 });
  await settled(page);
  expect(Number(await seam.getAttribute('aria-valuenow'))).toBeGreaterThan(before + 1);
  await page.getByRole('button', { name: 'Undo' }).tap();
  await settled(page);
  expect(await savedJob(page)).toEqual(placed);
});

test('a finger draws a line over the figure and moves a point of it', async ({ page }) => {
  await openFigure(page, 'block.stl', blockStl());
  await page.getByRole('tab', { name: 'Seam', exact: true }).tap();
  await page.getByRole('button', { name: 'Draw a line over the figure' }).tap();
  const bench = (await page.getByTestId('bench').boundingBox())!;
  for (const [x, y] of [
    [0.2, 0.5],
    [0.5, 0.42],
    [0.85, 0.5],
  ])
    await page.touchscreen.tap(bench.x + bench.width * x, bench.y + bench.height * y);
  await page.getByRole('button', { name: 'Done' }).tap();
  await settled(page);
  const lineOf = async () => {
    const { by } = ((await savedJob(page)) as Job).seams[0];
    return by.kind === 'sheet' ? by.line : [];
  };
  const drawn = await lineOf();
  expect(drawn.length).toBe(3);
  const middle = page.getByTestId('bench').getByRole('button', { name: 'Point 2 of 3' });
  const box = (await middle.boundingBox())!;
  await slide(page, { x: box.x + box.width / 2, y: box.y + box.height / 2 }, { x: 0, y: -25 });
  await settled(page);
  const moved = await lineOf();
  expect(moved[1][2]).toBeGreaterThan(drawn[1][2] + 0.5);
  expect([moved[0], moved[2]]).toEqual([drawn[0], drawn[2]]);
});
