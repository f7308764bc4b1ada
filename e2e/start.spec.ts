import { expect, test } from '@playwright/test';
import { settled } from './bench-page.ts';

test('while the demo comes the bench says which figure, how far it is and where to begin', async ({
  page,
}) => {
  let letGo = () => {};
  const held = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  await page.route(/\.ply/, async (route) => {
    await held;
    await route.continue();
  });
  await page.goto('/');
  const card = page.getByTestId('start-card');
  await expect(card.getByRole('heading')).toHaveText(/heron.*is on its way/);
  await expect(card.getByRole('progressbar')).toHaveCount(1);
  await expect(card.getByRole('listitem')).toHaveCount(3);
  letGo();
  await settled(page);
  await expect(card).toHaveCount(0);
});

test('a bench without a figure says how to put one there', async ({ page }) => {
  let isLost = true;
  await page.route(/\.ply/, (route) => (isLost ? route.abort() : route.continue()));
  await page.goto('/');
  const card = page.getByTestId('start-card');
  await expect(card.getByRole('heading')).toHaveText('Put a figure on the bench');
  await expect(card).toContainText('drop it anywhere here');
  await expect(card.getByRole('button', { name: 'Open a file…' })).toBeVisible();
  await expect(page.getByTestId('status')).toContainText('No figure on the bench');
  isLost = false;
  await card.getByRole('button', { name: 'Begin with the demo heron' }).click();
  await settled(page);
  await expect(card).toHaveCount(0);
});
