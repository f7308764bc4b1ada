import { expect, type Page, test } from '@playwright/test';
import { box, fanned } from '../test/support/simple-solids.ts';
import { openFigure, settled } from './bench-page.ts';
import { stlFile } from './figure-files.ts';

const state = (page: Page, part: string) =>
  page.getByRole('button', { name: new RegExp(`: show the build volume around ${part}$`) });

async function fill(page: Page, label: string, value: string): Promise<void> {
  await page.getByRole('textbox', { name: label }).fill(value);
  await page.getByRole('textbox', { name: label }).press('Enter');
  await settled(page);
}

/** The bench as it is drawn, once the camera has come to rest. */
async function drawn(page: Page): Promise<string> {
  const shot = async () => (await page.locator('.bench canvas').screenshot()).toString('base64');
  let last = await shot();
  await expect
    .poll(async () => {
      const before = last;
      last = await shot();
      return last === before;
    })
    .toBe(true);
  return last;
}

test('the list says how each part does on the bed, and the build volume is shown around it', async ({
  page,
}) => {
  await openFigure(page, 'rod.stl', stlFile(fanned(box([0, 0, 0], [12, 14, 330]))));
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  await fill(page, 'Offset', '190');
  await expect(state(page, 'upper')).toHaveText('fits');
  await expect(state(page, 'lower')).toHaveText('fits turned');
  await page.getByRole('tab', { name: 'Process' }).click();
  await fill(page, 'Bed height', '100');
  await expect(state(page, 'lower')).toHaveText(/^\d+(\.\d+)? mm too big$/);
  await expect(page.getByText(/in no turn: at best, turned by/)).toBeVisible();

  // It goes around the part that fits least until another is asked for.
  const tool = page.getByRole('button', { name: 'Build volume', exact: true });
  await tool.click();
  await expect(state(page, 'lower')).toHaveAttribute('aria-pressed', 'true');
  const around = await drawn(page);
  await tool.focus();
  await page.keyboard.press('Space');
  await expect(tool).toHaveAttribute('aria-pressed', 'false');
  expect(await drawn(page)).not.toBe(around);
  await state(page, 'upper').click();
  await expect(tool).toHaveAttribute('aria-pressed', 'true');
  await expect(state(page, 'lower')).toHaveAttribute('aria-pressed', 'false');
  expect(await drawn(page)).not.toBe(around);

  // Where its part is not seen it goes to one that is, and none is offered for what is hidden.
  await page.getByRole('button', { name: 'Hide upper' }).click();
  await expect(state(page, 'upper')).toBeDisabled();
  await expect(state(page, 'lower')).toHaveAttribute('aria-pressed', 'true');
  await state(page, 'lower').click();
  await expect(tool).toHaveAttribute('aria-pressed', 'false');

  // What fits is told anew with each edit, undone ones too.
  await page.getByRole('button', { name: 'Undo' }).click();
  await settled(page);
  await expect(state(page, 'lower')).toHaveText('fits turned');
});
