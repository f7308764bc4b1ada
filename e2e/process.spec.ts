import { expect, test } from '@playwright/test';
import { isClosedStl } from '../test/support/stl-check.ts';
import { bytesOf, openFigure, settled } from './bench-page.ts';
import { blockStl } from './figure-files.ts';

test('a process brings all its values to start with, and one of one’s own makes them one’s own', async ({
  page,
}) => {
  await openFigure(page, 'block.stl', blockStl());
  await page.getByRole('tab', { name: 'Process' }).click();
  const chosen = page.getByRole('button', { name: /Starting values/ });
  const values = async () =>
    Promise.all(
      ['Side gap', 'End gap', 'Least wall'].map((name) => page.getByRole('textbox', { name }).inputValue()),
    );
  await expect(chosen).toContainText('Resin');
  expect(await values()).toEqual(['0.12', '0.4', '1.2']);
  await chosen.click();
  await page.getByRole('option', { name: 'Filament' }).click();
  await expect(chosen).toContainText('Filament');
  expect(await values()).toEqual(['0.25', '0.5', '1.6']);
  await settled(page);
  await expect(page.getByTestId('section-side-gap')).toHaveText('0.25');

  await page.getByRole('textbox', { name: 'End gap' }).fill('0.7');
  await page.getByRole('textbox', { name: 'End gap' }).press('Enter');
  await expect(chosen).toContainText('Own values');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(chosen).toContainText('Filament');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(chosen).toContainText('Resin');
  expect(await values()).toEqual(['0.12', '0.4', '1.2']);
});

test('one part is saved by itself: closed, in its place, with its peg', async ({ page }) => {
  await openFigure(page, 'block.stl', blockStl());
  await page.getByRole('button', { name: 'Export…' }).click();
  const volumes: number[] = [];
  for (const [part, least] of [
    ['upper', 40],
    ['lower', 0],
  ] as const) {
    const saving = page.waitForEvent('download');
    await page.getByRole('button', { name: `This part: ${part}` }).click();
    const saved = await saving;
    expect(saved.suggestedFilename()).toBe(`block-${part}.stl`);
    const { closed, volume, min } = isClosedStl(await bytesOf(saved));
    expect(closed).toBe(true);
    expect(min[2]).toBeCloseTo(least, 4);
    volumes.push(volume);
  }
  // Halves of the block: the one with the peg is more than half of it, the one with the socket less.
  const half = (60 * 40 * 80) / 2;
  expect(volumes[0]).toBeLessThan(half - 10);
  expect(volumes[1]).toBeGreaterThan(half + 10);
});
