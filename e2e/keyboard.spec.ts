import { expect, type Page, test } from '@playwright/test';
import { box, fanned } from '../test/support/simple-solids.ts';
import { drag, drop, openBench, savedJob, settled } from './bench-page.ts';
import { stlFile } from './figure-files.ts';

/** A block of 60 × 40 × 80 mm on the bench: its one seam lies level, with one peg. */
async function openBlock(page: Page): Promise<void> {
  await openBench(page);
  await drop(page, [{ name: 'block.stl', buffer: stlFile(fanned(box([-30, -20, 0], [30, 20, 80]))) }]);
  await expect(page.getByTestId('status')).toContainText('block.stl');
  await settled(page);
  await expect(page.getByTestId(/^face-peg-\d+$/)).toHaveCount(1);
}

const adding = (page: Page) => page.getByRole('button', { name: 'Add peg' });

test('Escape leaves the adding of a peg wherever the focus is', async ({ page }) => {
  await openBlock(page);
  const places = [
    page.getByRole('application', { name: /^Face drawing/ }),
    page.getByTestId(/^face-peg-\d+$/).first(),
    page.getByRole('textbox', { name: /^Offset/ }),
  ];
  for (const place of places) {
    await adding(page).click();
    await expect(adding(page)).toHaveAttribute('aria-pressed', 'true');
    await place.focus();
    await page.keyboard.press('Escape');
    await expect(adding(page)).toHaveAttribute('aria-pressed', 'false');
    await expect(page.getByTestId('face-cross')).toHaveCount(0);
  }
});

test('Enter sets a peg where the cross is on the face, and says why not where it is beside it', async ({
  page,
}) => {
  await openBlock(page);
  await adding(page).click();
  await page.getByRole('application', { name: /^Face drawing/ }).focus();
  for (let step = 0; step < 8; step++) await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('message')).toHaveText(/No peg was set: that place is beside the face/);
  await expect(page.getByTestId(/^face-peg-\d+$/)).toHaveCount(1);
  for (let step = 0; step < 4; step++) await page.keyboard.press('Shift+ArrowLeft');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId(/^face-peg-\d+$/)).toHaveCount(2);
  await expect(page.getByTestId('message')).toHaveCount(0);
});

test('a seam that was added has the focus, the first as well as one more', async ({ page }) => {
  await openBlock(page);
  await page.getByRole('button', { name: 'Remove seam' }).click();
  await page.getByRole('button', { name: 'Add seam' }).focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('button', { name: /^upper \/ lower/ })).toBeFocused();
  await settled(page);
  await page.getByRole('button', { name: 'Add seam' }).focus();
  await page.keyboard.press('Enter');
  await page.getByRole('menuitem', { name: 'Divide upper' }).focus();
  await page.keyboard.press('Enter');
  await settled(page);
  await expect(page.getByRole('button', { name: /^upper right \/ upper left/ })).toBeFocused();
});

test('a peg of no given width that is dragged beside another does not grow into it', async ({ page }) => {
  await openBlock(page);
  await adding(page).click();
  await page.getByRole('application', { name: /^Face drawing/ }).focus();
  for (let step = 0; step < 4; step++) await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId(/^face-peg-\d+$/)).toHaveCount(2);
  await settled(page);
  const face = await page.getByTestId('face-outline').boundingBox();
  if (!face) throw new Error('no face is drawn');
  const pxPerMm = face.width / 60;
  const middle = await page
    .getByTestId(/^face-peg-\d+$/)
    .nth(1)
    .boundingBox();
  if (!middle) throw new Error('no peg is drawn');
  const from = { x: middle.x + middle.width / 2, y: middle.y + middle.height / 2 };
  await drag(page, from, { x: -12 * pxPerMm, y: 0 });
  await settled(page);
  const job = (await savedJob(page)) as { seams: { pegs: { at: 'auto' | number[]; widthMm?: number }[] }[] };
  const [, moved] = job.seams[0].pegs;
  expect(moved.at).not.toBe('auto');
  expect(moved.widthMm).toBeUndefined();
  await expect(page.locator('.finding', { hasText: 'runs into peg' })).toHaveCount(0);
});
