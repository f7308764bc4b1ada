import { expect, type Page, test } from '@playwright/test';
import type { Job } from '../src/index.ts';
import { planeOf } from '../test/support/plane-of.ts';
import { dumbBell, revolved } from '../test/support/revolved.ts';
import { openFigure, savedJob, settled } from './bench-page.ts';
import { stlFile } from './figure-files.ts';

/** A dumb-bell standing on end, its neck thinnest at z = 0 with a radius of 3 mm. */
const bell = () => stlFile(revolved(dumbBell, 18.9, 121, 64));

async function fill(page: Page, label: string, value: string): Promise<void> {
  const field = page.getByRole('textbox', { name: label });
  await field.fill(value);
  await field.press('Enter');
  await settled(page);
}

async function plane(page: Page) {
  const { normal, offsetMm } = planeOf(((await savedJob(page)) as Job).seams[0]);
  return { leanDeg: (Math.acos(Math.min(1, Math.abs(normal[2]))) * 180) / Math.PI, offsetMm };
}

test('a seam goes where its limb is narrowest, that it cuts or that is clicked on the figure', async ({
  page,
}) => {
  await openFigure(page, 'bell.stl', bell());
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  await fill(page, 'Offset', '4');
  await fill(page, 'Tilt across', '14');

  // By keys, and one step to undo.
  await page.getByRole('button', { name: 'Narrowest here' }).press('Enter');
  await expect(page.getByTestId('message')).toContainText(
    /narrowest: its section has 28\.\d mm², and had \d+\.\d mm²/,
  );
  await settled(page);
  const found = await plane(page);
  expect(found.leanDeg).toBeLessThan(0.5);
  expect(Math.abs(found.offsetMm)).toBeLessThan(0.05);
  await page.getByRole('button', { name: 'Undo' }).click();
  await settled(page);
  expect(Math.abs((await plane(page)).offsetMm)).toBeGreaterThan(2);

  const seek = page.getByRole('button', { name: /^(Narrowest at a click|Click a limb)$/ });
  await seek.click();
  await page.keyboard.press('Escape');
  await expect(seek).toHaveAttribute('aria-pressed', 'false');
  await seek.click();
  const bench = await page.getByTestId('bench').boundingBox();
  if (!bench) throw new Error('no bench');
  // Beside the figure it goes on asking, and says so.
  await page.mouse.click(bench.x + 12, bench.y + 60);
  await expect(page.getByTestId('message')).toContainText('beside the figure');
  await expect(seek).toHaveAttribute('aria-pressed', 'true');
  await page.mouse.click(bench.x + bench.width / 2, bench.y + bench.height / 2);
  await expect(page.getByTestId('message')).toContainText('narrowest');
  await settled(page);
  const clicked = await plane(page);
  expect(clicked.leanDeg).toBeLessThan(0.5);
  expect(Math.abs(clicked.offsetMm)).toBeLessThan(0.05);
  await expect(seek).toHaveAttribute('aria-pressed', 'false');
});

test('a seam is turned square to the limb it cuts, or it is told why not', async ({ page }) => {
  await openFigure(page, 'bell.stl', bell());
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  await fill(page, 'Offset', '0.8');
  await fill(page, 'Tilt across', '14');

  // By keys, and one step to undo and to do again.
  await page.getByRole('button', { name: 'Square to the limb' }).press('Enter');
  await expect(page.getByTestId('message')).toContainText(
    /square to this limb, turned by 14(\.\d)?°: its section has 28\.\d mm², and had \d+\.\d mm²/,
  );
  await settled(page);
  const squared = await plane(page);
  expect(squared.leanDeg).toBeLessThan(0.1);
  expect(Math.abs(squared.offsetMm - 0.8)).toBeLessThan(0.3);
  await page.getByRole('button', { name: 'Undo' }).click();
  await settled(page);
  expect((await plane(page)).leanDeg).toBeCloseTo(14, 1);
  await page.getByRole('button', { name: 'Redo' }).click();
  await settled(page);
  expect((await plane(page)).leanDeg).toBeLessThan(0.1);

  // A ball has no direction: nothing changes, and that is told.
  await fill(page, 'Offset', '12');
  await fill(page, 'Tilt across', '10');
  const before = await plane(page);
  await page.getByRole('button', { name: 'Square to the limb' }).click();
  await expect(page.getByTestId('message')).toContainText('no limb has a clear direction');
  expect(await plane(page)).toEqual(before);
});
