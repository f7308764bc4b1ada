import { expect, type Locator, type Page, test } from '@playwright/test';
import { openBench, openFigure, settled } from './bench-page.ts';
import { blockStl } from './figure-files.ts';

const LONG = 'Keeper'.repeat(13).concat('XY');

/** The page's own width against what is in it. */
const widths = (page: Page) =>
  page.evaluate(() => ({
    window: document.documentElement.clientWidth,
    page: document.documentElement.scrollWidth,
  }));

/** True where all of it lies within the window from left to right. */
async function liesWithin(page: Page, one: Locator): Promise<boolean> {
  const box = await one.boundingBox();
  return box !== null && box.x >= 0 && box.x + box.width <= (await widths(page)).window;
}

async function nameParts(page: Page, front: string, back: string): Promise<void> {
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  for (const [label, name] of [
    ['Front part', front],
    ['Back part', back],
  ] as const) {
    await page.getByRole('textbox', { name: label }).fill(name);
    await page.getByRole('textbox', { name: label }).press('Enter');
  }
  await settled(page);
}

/** Everything that shows is inside the window, and the page no wider than that. */
async function expectNothingOutside(page: Page): Promise<void> {
  const { window, page: wide } = await widths(page);
  expect(wide).toBe(window);
  for (const name of ['bench', 'face-drawing', 'section-drawing', 'status'])
    expect(await liesWithin(page, page.getByTestId(name)), name).toBe(true);
  for (const panel of await page.locator('.panel').all()) {
    expect(await liesWithin(page, panel)).toBe(true);
    expect(await panel.evaluate((one) => one.scrollWidth - one.clientWidth)).toBe(0);
  }
}

test('long names push nothing off the screen, and can be read whole', async ({ page }) => {
  await openBench(page);
  await nameParts(page, LONG, LONG.toUpperCase());
  await page.getByRole('textbox', { name: 'Offset' }).fill('63');
  await page.getByRole('textbox', { name: 'Offset' }).press('Enter');
  await settled(page);
  for (const [width, height] of [
    [1440, 900],
    [1024, 768],
    [801, 600],
    [390, 844],
  ] as const) {
    await page.setViewportSize({ width, height });
    await expectNothingOutside(page);
    const title = page.locator('.seam-list .entry-title').first();
    await expect(title).toHaveAttribute('title', `${LONG} / ${LONG.toUpperCase()}`);
    expect(await liesWithin(page, page.getByRole('button', { name: 'Add peg' }))).toBe(true);

    await page.getByRole('button', { name: 'Export…' }).click();
    const dialog = page.getByRole('dialog');
    await expect(dialog).toContainText(LONG);
    expect(await dialog.evaluate((one) => one.scrollWidth - one.clientWidth)).toBe(0);
    for (const save of await dialog.getByRole('button', { name: /^This part/ }).all())
      expect(await liesWithin(page, save)).toBe(true);
    await page.keyboard.press('Escape');

    await page.locator('.seam-list').getByRole('button', { name: 'Add seam' }).click();
    for (const entry of await page.getByRole('menuitem').all())
      expect(await liesWithin(page, entry)).toBe(true);
    await page.keyboard.press('Escape');
  }
});

test('a narrow window is one column: figure, drawings, findings, and export works', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await openFigure(page, 'block.stl', blockStl());
  await expectNothingOutside(page);
  const tops = await Promise.all(
    ['bench', 'face-drawing', 'section-drawing'].map(
      async (name) => (await page.getByTestId(name).boundingBox())!.y,
    ),
  );
  const panels = await Promise.all(
    ['.findings', '.seam-list', '.fields'].map(async (name) => (await page.locator(name).boundingBox())!.y),
  );
  const down = [...tops, ...panels];
  expect(down).toEqual(down.toSorted((a, b) => a - b));

  // All of it can be scrolled to, and what was said stays in sight.
  await page.mouse.move(2, 400);
  await page.mouse.wheel(0, 100_000);
  await expect(page.locator('.fields')).toBeInViewport();
  await expect(page.getByTestId('status')).toBeInViewport({ ratio: 1 });

  await page.getByRole('button', { name: 'Export…' }).click();
  const saved = page.waitForEvent('download');
  await page.getByTestId('export-all').click();
  expect((await saved).suggestedFilename()).toMatch(/\.zip$/);
});

test('the newest seam and its error stay in sight in a full list', async ({ page }) => {
  await page.setViewportSize({ width: 1024, height: 768 });
  await openFigure(page, 'block.stl', blockStl());
  const list = page.locator('.seam-list');
  for (let seam = 2; seam <= 5; seam++) {
    await list.getByRole('button', { name: 'Add seam' }).click();
    await page.getByRole('menuitem').last().click();
    await settled(page);
  }
  await expect(list.locator('[data-group]')).toHaveCount(5);
  await expect(list.getByRole('button', { name: 'Add seam' })).toBeInViewport({ ratio: 1 });
  await expect(list.locator('[aria-current]')).toBeInViewport({ ratio: 1 });

  // A seam off the figure, or a peg with nowhere to stand, is told in rows that show.
  await page.getByRole('tab', { name: 'Peg' }).click();
  await page.getByRole('textbox', { name: 'Length' }).fill('200');
  await page.getByRole('textbox', { name: 'Length' }).press('Enter');
  const worst = list.locator('[data-group]').last().locator('.severity');
  await expect(worst.first()).toBeInViewport({ ratio: 1 });

  // The first of the list is brought back when it is chosen elsewhere.
  await list.locator('.entry').first().click();
  await expect(list.locator('[aria-current]')).toBeInViewport({ ratio: 1 });
});

test('Fit brings parts that are pulled apart back into view', async ({ page }) => {
  await openFigure(page, 'block.stl', blockStl());
  const bench = page.getByTestId('bench');
  const edge = async () => {
    const box = await bench.boundingBox();
    if (!box) throw new Error('no bench');
    return page.screenshot({ clip: { x: box.x + 12, y: box.y + 2, width: box.width - 24, height: 6 } });
  };
  const empty = await edge();
  const slider = page.getByRole('slider', { name: 'Pull apart' });
  await slider.focus();
  await page.keyboard.press('End');
  await expect.poll(async () => (await edge()).equals(empty)).toBe(false);
  await page.getByRole('button', { name: /^Fit/ }).click();
  await expect.poll(async () => (await edge()).equals(empty)).toBe(true);

  // So does its key, where the slider still has the focus.
  await slider.focus();
  await page.keyboard.press('Home');
  await page.keyboard.press('f');
  await page.keyboard.press('End');
  await expect.poll(async () => (await edge()).equals(empty)).toBe(false);
  await expect(slider).toBeFocused();
  await page.keyboard.press('f');
  await expect.poll(async () => (await edge()).equals(empty)).toBe(true);
});
