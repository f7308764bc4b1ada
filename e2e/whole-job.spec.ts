import { expect, test } from '@playwright/test';
import { unzipSync } from 'fflate';
import { bytesOf, drag, middleOf, openBench, openFigure, savedJob, settled } from './bench-page.ts';
import { blockStl } from './figure-files.ts';
import { openEdgeCount, sideGaps, stlTriangles } from './stl-measure.ts';

interface SavedJob {
  seams: {
    by: { normal: [number, number, number]; offsetMm: number };
    joints: unknown[];
    names: { front: string; back: string };
  }[];
}

test('from the demo to printed parts, by mouse and keyboard, and all the way back', async ({ page }) => {
  await openBench(page);
  const first = (await savedJob(page)) as SavedJob;
  const areaAtFirst = await page.getByTestId('seam-area').textContent();

  // The seam moves along its normal under the pointer.
  await drag(page, await middleOf(page, 'seam-handle'), { x: 14, y: -10 });
  await settled(page);
  await expect(page.getByTestId('seam-area')).not.toHaveText(areaAtFirst ?? '');
  const moved = (await savedJob(page)) as SavedJob;
  expect(moved.seams[0].by.offsetMm).not.toBe(first.seams[0].by.offsetMm);
  expect(moved.seams[0].by.normal).toEqual(first.seams[0].by.normal);

  // A second peg where the face drawing is clicked, between the first peg and the edge.
  await page.getByRole('button', { name: 'Add peg' }).click();
  const face = await page.getByTestId('face-outline').boundingBox();
  if (!face) throw new Error('no face drawing');
  await page.mouse.click(face.x + face.width / 2, face.y + face.height * 0.8);
  await settled(page);
  await expect(page.getByTestId('face-peg-1')).toBeVisible();

  // Both pegs get the same wider gap, for the process asks for it.
  await page.getByRole('tab', { name: 'Process' }).click();
  const gap = page.getByRole('textbox', { name: 'Side gap' });
  await gap.fill('0.2');
  await gap.press('Enter');
  await settled(page);
  await expect(page.getByTestId('section-side-gap')).toHaveText('0.20');

  const job = (await savedJob(page)) as SavedJob;
  expect(job.seams[0].joints).toHaveLength(2);

  await page.getByRole('button', { name: 'Export…' }).click();
  const download = page.waitForEvent('download');
  await page.getByTestId('export-all').click();
  const files = unzipSync(await bytesOf(await download));
  await page.keyboard.press('Escape');
  const [seam] = job.seams;
  const named = (part: string) => {
    const name = Object.keys(files).find((file) => file.endsWith(`-${part}.stl`));
    if (!name) throw new Error(`no file of ${part} among ${Object.keys(files).join(', ')}`);
    return stlTriangles(files[name]);
  };
  const pegged = named(seam.names.back);
  const socketed = named(seam.names.front);
  expect(openEdgeCount(pegged)).toBe(0);
  expect(openEdgeCount(socketed)).toBe(0);

  const gaps = sideGaps(pegged, socketed, seam.by.normal, seam.by.offsetMm);
  expect(gaps.length).toBeGreaterThan(200);
  expect(Math.min(...gaps)).toBeGreaterThan(0.19);
  expect(Math.max(...gaps)).toBeLessThan(0.21);

  const undo = page.getByRole('button', { name: 'Undo' });
  while (await undo.isEnabled()) await undo.click();
  await settled(page);
  expect(await savedJob(page)).toEqual(first);
  await page.getByRole('tab', { name: 'Seam' }).click();
  await expect(page.getByTestId('seam-area')).toHaveText(areaAtFirst ?? '');
});

test('a drag that Escape cancels leaves nothing behind', async ({ page }) => {
  await openFigure(page, 'block.stl', blockStl());
  const before = await savedJob(page);
  await drag(page, await middleOf(page, 'seam-handle'), { x: 30, y: -20 }, false);
  await page.keyboard.press('Escape');
  await page.mouse.up();
  await settled(page);
  expect(await savedJob(page)).toEqual(before);
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
});

test('the seam moves by arrow keys, and Control+Z takes it back', async ({ page }) => {
  await openFigure(page, 'block.stl', blockStl());
  const before = await savedJob(page);
  await page.getByTestId('seam-handle').focus();
  await page.keyboard.press('Shift+ArrowUp');
  await settled(page);
  const after = (await savedJob(page)) as SavedJob;
  expect(after.seams[0].by.offsetMm).toBeCloseTo((before as SavedJob).seams[0].by.offsetMm + 1, 9);
  await page.keyboard.press('Control+z');
  await settled(page);
  expect(await savedJob(page)).toEqual(before);
});

test('a peg is dragged, sized and spun in the face drawing, each one step to undo', async ({ page }) => {
  await openFigure(page, 'block.stl', blockStl());
  const before = (await savedJob(page)) as SavedJob;
  await page.getByTestId('face-peg-0').click();
  await drag(page, await middleOf(page, 'face-peg-0'), { x: 20, y: 12 });
  await settled(page);
  const dragged = (await savedJob(page)) as SavedJob;
  expect(dragged.seams[0].joints[0]).not.toEqual(before.seams[0].joints[0]);
  await drag(page, await middleOf(page, 'peg-handle-right'), { x: 8, y: 0 });
  await settled(page);
  await drag(page, await middleOf(page, 'peg-handle-spin'), { x: 20, y: 10 });
  await settled(page);
  const spun = (await savedJob(page)) as SavedJob;
  expect(spun.seams[0].joints[0]).not.toEqual(dragged.seams[0].joints[0]);
  for (let step = 0; step < 3; step++) await page.keyboard.press('Control+z');
  await settled(page);
  expect(await savedJob(page)).toEqual(before);
});

test('a knob tilts the seam across under the mouse, one step to undo', async ({ page }) => {
  await openFigure(page, 'block.stl', blockStl());
  const before = await savedJob(page);
  const tilt = async (way: string) =>
    Number(await page.getByRole('slider', { name: `Tilt the seam ${way}` }).getAttribute('aria-valuenow'));
  expect(Math.abs(await tilt('across'))).toBe(0);
  await drag(page, await middleOf(page, 'tilt-across-handle'), { x: 0, y: -20 });
  await settled(page);
  expect(Math.abs(await tilt('across'))).toBeGreaterThan(3);
  expect(await tilt('along')).toBeCloseTo(0, 1);
  await page.keyboard.press('Control+z');
  await settled(page);
  expect(await savedJob(page)).toEqual(before);
});
