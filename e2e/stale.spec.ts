import { expect, type Page, test } from '@playwright/test';
import { torus } from '../test/support/simple-solids.ts';
import { openBench, openFigure, settled } from './bench-page.ts';
import { stlFile } from './figure-files.ts';
import { boxStl } from './sample-files.ts';

/** A ring on the bench, one of the two outlines of its seam then left whole, which joins both sides. */
async function seamThatFreesNothing(page: Page): Promise<void> {
  await openFigure(page, 'ring.stl', stlFile(torus(20, 5, 24, 12)));
  await expect(page.getByTestId('status')).toContainText('parts proved sound');
  await page
    .getByRole('button', { name: /^Outline \d of the seam is cut/ })
    .first()
    .click();
  await expect(page.getByTestId('standing-refusal')).toBeVisible();
}

test('a seam that divides nothing leaves nothing that looks like a result of it, and the reason stays', async ({
  page,
}) => {
  await seamThatFreesNothing(page);
  const title = await page.locator('.seam-list .entry-title').first().textContent();
  await expect(page.getByTestId('message')).toContainText(`Seam “${title}” divides nothing`);
  await expect(page.getByTestId('section-drawing')).toContainText('An earlier result');
  await expect(page.locator('.bench')).toContainText('An earlier result');
  await expect(page.getByTestId('section-drawing').locator('[data-stale]')).toHaveCount(1);
  await expect(page.getByTestId('status')).not.toContainText('Ready');
  await expect(page.locator('.findings')).not.toContainText('Nothing to note');

  await page.getByRole('button', { name: 'Dismiss' }).click();
  await expect(page.getByTestId('message')).toHaveCount(0);
  await expect(page.getByTestId('standing-refusal')).toContainText(`Seam “${title}” divides nothing`);
  await expect(page.getByTestId('status')).toContainText('the findings say why');

  await page.getByRole('button', { name: 'Export…' }).click();
  await expect(page.getByTestId('export-refused')).toContainText('parts before the last change');
  await expect(page.getByTestId('export-refused')).toContainText(`Seam “${title}” divides nothing`);
  await expect(page.getByTestId('export-all')).toBeDisabled();
  for (const one of await page.getByRole('button', { name: /^This part/ }).all())
    await expect(one).toBeDisabled();
  await page.keyboard.press('Escape');

  await page.getByRole('button', { name: 'Undo' }).click();
  await settled(page);
  await expect(page.getByTestId('standing-refusal')).toHaveCount(0);
  await expect(page.locator('[data-stale]')).toHaveCount(0);
  await expect(page.getByTestId('status')).toContainText('Ready');
});

test('a kernel that cannot be fetched is told as that, not as parts too big for it', async ({ page }) => {
  await page.route(/kernel-entry/, (route) => route.abort());
  await openFigure(page, 'block.stl', boxStl(20));
  await expect(page.getByTestId('status')).toContainText('the kernel could not be loaded');
  await expect(page.getByTestId('status')).not.toContainText('too big');
});

test('a bench that cannot be fetched leaves the rest of the page standing', async ({ page }) => {
  await page.route(/\/Bench[-.]/, (route) => route.abort());
  await openBench(page);
  await expect(page.locator('.bench')).toContainText('could not be loaded');
  await expect(page.getByRole('button', { name: 'Export…' })).toBeEnabled();
});

test('an engine that cannot be fetched is told as that, and is asked for again', async ({ page }) => {
  const engine = /\/entry[-.]/;
  await page.route(engine, (route) => route.abort());
  await page.goto('/');
  await expect(page.getByTestId('message')).toContainText('The engine could not be loaded');
  await page.unroute(engine);
  await page.getByRole('button', { name: 'Demo figure' }).click();
  await settled(page);
});
