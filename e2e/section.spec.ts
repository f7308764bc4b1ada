import { expect, type Page, test } from '@playwright/test';
import { openFigure, settled } from './bench-page.ts';
import { blockStl } from './figure-files.ts';

/** How far down the page a name stands in the section drawing, px. */
async function heightOf(page: Page, name: string): Promise<number> {
  const at = await page.getByTestId('section-drawing').getByText(name, { exact: true }).boundingBox();
  if (!at) throw new Error(`the section does not name ${name}`);
  return at.y;
}

test('the section has the upper part above, whichever part the peg is on', async ({ page }) => {
  await openFigure(page, 'block.stl', blockStl());
  for (const side of ['lower', 'upper']) {
    await page.getByRole('button', { name: /The peg is on/ }).click();
    await page.getByRole('option', { name: side }).click();
    await settled(page);
    await expect(page.getByTestId('section-side-gap')).toContainText('0.');
    expect(await heightOf(page, 'upper'), side).toBeLessThan(await heightOf(page, 'lower'));
    await expect(page.getByTestId('section-end-gap')).toBeVisible();
  }
});
