import { expect, type Page, test } from '@playwright/test';
import { openBench, openFigure, settled } from './bench-page.ts';
import { boxStl } from './sample-files.ts';

/** A block on the bench, its seam then moved far off it. */
async function seamOffTheBlock(page: Page): Promise<void> {
  await openFigure(page, 'block.stl', boxStl(20));
  await expect(page.getByTestId('status')).toContainText('Ready, parts proved sound');
  await page.getByRole('textbox', { name: 'Offset' }).fill('500');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('standing-refusal')).toBeVisible();
}

test('a seam off the figure leaves nothing that looks like a result of it, and the reason stays', async ({
  page,
}) => {
  await seamOffTheBlock(page);
  const title = await page.locator('.seam-list .entry-title').first().textContent();
  await expect(page.getByTestId('message')).toContainText(`Seam “${title}” does not pass through`);
  await expect(page.getByTestId('face-drawing')).toContainText('No face is drawn: seam');
  await expect(page.getByTestId('section-drawing')).toContainText('An earlier result');
  await expect(page.locator('.bench')).toContainText('An earlier result');
  await expect(page.getByTestId('section-drawing').locator('[data-stale]')).toHaveCount(1);
  await expect(page.getByTestId('status')).not.toContainText('Ready');
  await expect(page.locator('.findings')).not.toContainText('Nothing to note');

  await page.getByRole('button', { name: 'Dismiss' }).click();
  await expect(page.getByTestId('message')).toHaveCount(0);
  await expect(page.getByTestId('standing-refusal')).toContainText(`Seam “${title}” does not pass through`);
  await expect(page.getByTestId('status')).toContainText('the findings say why');

  await page.getByRole('button', { name: 'Export…' }).click();
  await expect(page.getByTestId('export-refused')).toContainText('parts before the last change');
  await expect(page.getByTestId('export-refused')).toContainText(`Seam “${title}” does not pass through`);
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
