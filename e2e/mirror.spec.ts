import { expect, type Page, test } from '@playwright/test';
import type { Job } from '../src/index.ts';
import { biped } from '../test/support/biped.ts';
import { limbed } from '../test/support/limbed.ts';
import { planeOf } from '../test/support/plane-of.ts';
import { openFigure, savedJob, settled } from './bench-page.ts';
import { stlFile } from './figure-files.ts';

async function fill(page: Page, label: string, value: string): Promise<void> {
  const field = page.getByRole('textbox', { name: label, exact: true });
  await field.fill(value);
  await field.press('Enter');
  await settled(page);
}

const seamsOf = async (page: Page) => ((await savedJob(page)) as Job).seams;
const opener = (page: Page) => page.getByRole('button', { name: 'Mirror across…' });
const form = (page: Page) => page.getByRole('group', { name: 'Mirror across…' });

test('a seam through one arm is mirrored across the figure’s own plane, by keys, in one step', async ({
  page,
}) => {
  await openFigure(page, 'biped.stl', stlFile(biped(3).mesh));
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  await page.getByRole('button', { name: /Square to$/ }).click();
  await page.getByRole('option', { name: 'Width (X)' }).click();
  await fill(page, 'Offset', '20');
  await fill(page, 'Front part', 'right hand');
  await fill(page, 'Back part', 'body');

  await opener(page).press('Enter');
  await expect(page.getByTestId('mirror-fit')).toContainText('The figure is symmetric: 100 %');
  await page.keyboard.press('Escape');
  await expect(form(page)).toHaveCount(0);
  await opener(page).press('Enter');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Tab');
  await expect(page.getByRole('button', { name: 'Mirror the seam' })).toBeFocused();
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('message')).toContainText(
    /new seam parts “left hand” from “body”. Its face has (\d+\.\d) mm², the one it is the image of \1 mm²/,
  );
  // The keys stay where they were, for the next.
  await expect(opener(page)).toBeFocused();
  await settled(page);

  const [own, image] = await seamsOf(page);
  expect(image).toMatchObject({ of: `${own.id}.back`, names: { front: 'left hand', back: 'body' } });
  const [{ normal, offsetMm }] = [planeOf(image)];
  expect(Math.abs(normal[0] + 1)).toBeLessThan(1e-6);
  expect(Math.abs(offsetMm - 20)).toBeLessThan(1e-4);
  expect(image.joints.length).toBe(own.joints.length);

  await page.getByRole('button', { name: 'Undo' }).click();
  await settled(page);
  expect(await seamsOf(page)).toHaveLength(1);
  await page.getByRole('button', { name: 'Redo' }).click();
  await settled(page);
  expect(await seamsOf(page)).toHaveLength(2);
});

test('a figure that is not symmetric is told so, and a plane set for it all the same', async ({ page }) => {
  await openFigure(page, 'lump.stl', stlFile(limbed(3, 3)));
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  await page.getByRole('button', { name: /Square to$/ }).click();
  await page.getByRole('option', { name: 'Width (X)' }).click();
  await fill(page, 'Offset', '6');
  await opener(page).click();
  const fit = page.getByTestId('mirror-fit');
  await expect(fit).toContainText(/not symmetric: across the best plane only \d\d % .* up to \d\.\d mm off/);

  await form(page)
    .getByRole('button', { name: /Across$/ })
    .click();
  await page.getByRole('option', { name: 'Square to width (X)' }).click();
  await fill(page, 'Plane offset', '6');
  await expect(fit).toContainText('not symmetric here');
  await page.getByRole('button', { name: 'Mirror the seam' }).click();
  await expect(page.getByTestId('message')).toContainText('is its own mirror image across that plane');
  await fill(page, 'Plane offset', '0');
  await page.getByRole('button', { name: 'Mirror the seam' }).click();
  await expect(page.getByTestId('message')).toContainText('Mirrored');
  await settled(page);
  const [, image] = await seamsOf(page);
  expect(planeOf(image)).toMatchObject({ normal: [-1, 0, 0], offsetMm: 6 });
});
