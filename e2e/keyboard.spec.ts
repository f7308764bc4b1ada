import { expect, type Page, test } from '@playwright/test';
import { drag, openFigure, savedJob, settled } from './bench-page.ts';
import { blockStl } from './figure-files.ts';

/** The block on the bench: its one seam lies level, with one peg. */
async function openBlock(page: Page): Promise<void> {
  await openFigure(page, 'block.stl', blockStl());
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
  const job = (await savedJob(page)) as {
    seams: { joints: { at: 'auto' | number[]; widthMm?: number }[] }[];
  };
  const [, moved] = job.seams[0].joints;
  expect(moved.at).not.toBe('auto');
  expect(moved.widthMm).toBeUndefined();
  await expect(page.locator('.finding', { hasText: 'runs into peg' })).toHaveCount(0);
});

test('keys move, size, spin and remove a peg in the face drawing, each one step to undo', async ({
  page,
}) => {
  await openBlock(page);
  const peg = page.getByTestId('face-drawing').getByRole('button', { name: /^Peg 1:/ });
  /** What the drawing says of the peg: width, height, place across and up, spin. */
  const told = async () =>
    [...((await peg.getAttribute('aria-label')) ?? '').replaceAll('−', '-').matchAll(/-?\d+(\.\d+)?/g)]
      .slice(1, 6)
      .map(([number]) => Number(number));
  await expect(peg).toBeVisible();
  const [width, height, across, up, spin] = await told();
  const before = await savedJob(page);
  await peg.focus();
  await page.keyboard.press('Shift+ArrowRight');
  await expect.poll(async () => (await told())[2]).toBeGreaterThan(across);
  await settled(page);
  expect((await told())[3]).toBe(up);
  await page.keyboard.press('Shift+ArrowUp');
  await expect.poll(async () => (await told())[3]).toBeGreaterThan(up);
  await page.keyboard.press('-');
  await expect.poll(async () => (await told())[0]).toBeLessThan(width);
  expect((await told())[1]).toBeLessThan(height);
  await page.keyboard.press(']');
  await expect.poll(async () => (await told())[4]).toBeGreaterThan(spin);
  await settled(page);
  await expect(peg).toBeFocused();
  await page.keyboard.press('Delete');
  await expect(peg).toHaveCount(0);
  await settled(page);
  for (let step = 0; step < 5; step++) await page.keyboard.press('Control+z');
  await settled(page);
  expect(await savedJob(page)).toEqual(before);
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
});
