import { expect, type Page, test } from '@playwright/test';
import type { Job } from '../src/index.ts';
import { box, fanned } from '../test/support/simple-solids.ts';
import { openFigure, savedJob, settled } from './bench-page.ts';
import { stlFile } from './figure-files.ts';

const jobOn = async (page: Page) => (await savedJob(page)) as Job;
const treeOn = (page: Page) => page.getByRole('region', { name: 'Seams and pegs' });
const orderOn = async (page: Page) => (await jobOn(page)).seams.map(({ id, of }) => `${id} of ${of}`);

const offsetTo = async (page: Page, mm: string) => {
  const offset = page.getByRole('textbox', { name: 'Offset' });
  await offset.fill(mm);
  await offset.press('Enter');
};

/** A column of 20 × 20 × 60 mm, cut at z = −10, and above that at z = 12: the second seam is chosen. */
async function columnInThree(page: Page): Promise<void> {
  await openFigure(page, 'column.stl', stlFile(fanned(box([-10, -10, -30], [10, 10, 30]))));
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  await offsetTo(page, '-10');
  await treeOn(page).getByRole('button', { name: 'Add seam' }).click();
  await page.getByRole('menuitem', { name: 'Divide upper' }).click();
  await settled(page);
  await offsetTo(page, '12');
  await settled(page);
  expect(await orderOn(page)).toEqual(['seam 1 of sculpt', 'seam 2 of seam 1.front']);
}

const partNames = async (page: Page) => {
  await page.getByRole('button', { name: 'Export…' }).click();
  const names = await page.getByRole('dialog').getByRole('listitem').locator('strong').allTextContents();
  await page.keyboard.press('Escape');
  return names.sort();
};

test('a seam whose part is taken away waits with its peg, is told of wherever it matters, and comes back by undo', async ({
  page,
}) => {
  await columnInThree(page);
  const before = await jobOn(page);
  const tree = treeOn(page);
  await tree.getByRole('button', { name: /^upper \/ lower/ }).click();
  await page.getByRole('button', { name: 'Remove seam' }).click();
  await expect(page.getByTestId('message')).toContainText('1 seam waits now for a part that is gone');
  const waiting = tree.locator('.entry', { hasText: 'waits' });
  await expect(waiting).toHaveText(/upper upper \/ upper lower/);
  await expect(waiting).toContainText('Error');
  await expect(tree.getByRole('button', { name: /^Peg 1/ })).toHaveCount(1);
  await expect(page.locator('.finding').first()).toContainText('This seam waits and cuts nothing');
  await expect(page.getByTestId('face-drawing')).toContainText('No face is drawn: this seam waits');
  await expect(page.getByTestId('status')).toContainText('1 error among the findings');

  await page.getByRole('button', { name: 'Export…' }).click();
  await expect(page.getByTestId('export-waiting')).toContainText(
    '1 seam waits and is not cut in these parts: upper upper / upper lower',
  );
  await expect(page.getByRole('dialog').getByRole('listitem').locator('strong')).toHaveText(['column']);
  const download = page.waitForEvent('download');
  await page.getByTestId('export-all').click();
  await download;
  await page.keyboard.press('Escape');
  await expect(page.getByTestId('message')).toContainText('1 seam waits and is not cut in it');

  await page.keyboard.press('Control+z');
  await settled(page);
  expect(await jobOn(page)).toEqual(before);
  await expect(tree.locator('.entry', { hasText: 'waits' })).toHaveCount(0);
  expect(await partNames(page)).toHaveLength(3);

  // Or it is given a part that is there.
  await page.keyboard.press('Control+Shift+z');
  await page.getByRole('button', { name: 'Divide column instead' }).press('Enter');
  await settled(page);
  expect(await orderOn(page)).toEqual(['seam 2 of sculpt']);
  await expect(tree.locator('.entry', { hasText: 'waits' })).toHaveCount(0);
});

test('a seam moved off the figure waits where it is, and cuts again where it is brought back', async ({
  page,
}) => {
  await openFigure(page, 'column.stl', stlFile(fanned(box([-10, -10, -30], [10, 10, 30]))));
  await offsetTo(page, '500');
  const waiting = treeOn(page).locator('.entry', { hasText: 'waits' });
  await expect(waiting).toHaveCount(1);
  await expect(page.locator('.finding').first()).toContainText('it does not pass through the part');
  await expect(page.getByTestId('seam-handle')).toHaveCount(1);
  await offsetTo(page, '4');
  await settled(page);
  await expect(waiting).toHaveCount(0);
  await expect(page.getByTestId('status')).toContainText('Ready');
});

test('a seam is cut earlier or later by mouse and by key, the parts keeping their names, each one step to undo', async ({
  page,
}) => {
  await columnInThree(page);
  const [before, names] = [await jobOn(page), await partNames(page)];
  await expect(page.getByTestId('seam-order')).toHaveText('Cut 2 of 2: upper upper / upper lower');
  await page.getByRole('button', { name: /^Cut .* earlier$/ }).click();
  await expect(page.getByTestId('seam-order')).toContainText('Cut 1 of 2');
  await settled(page);
  expect(await orderOn(page)).toEqual(['seam 2 of sculpt', 'seam 1 of seam 2.back']);
  expect(await partNames(page)).toEqual(names);
  const later = page.getByRole('button', { name: /^Cut .* later$/ });
  await later.focus();
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('seam-order')).toContainText('Cut 2 of 2');
  await expect(page.getByRole('button', { name: /^Cut .* earlier$/ })).toBeFocused();
  await settled(page);
  expect(await orderOn(page)).toEqual(['seam 1 of sculpt', 'seam 2 of seam 1.front']);
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await settled(page);
  expect(await jobOn(page)).toEqual(before);

  // Upright it would cut the foot as well.
  await page.getByRole('button', { name: /Square to$/ }).click();
  await page.getByRole('option', { name: 'Width (X)' }).click();
  await offsetTo(page, '0');
  await settled(page);
  const upright = await orderOn(page);
  await page.getByRole('button', { name: /^Cut .* earlier$/ }).click();
  await expect(page.getByTestId('message')).toContainText('would come first and cut “lower” as well');
  expect(await orderOn(page)).toEqual(upright);
});

test('one part is pulled away from the rest and seated again, and Fit brings it into view', async ({
  page,
}) => {
  await columnInThree(page);
  const picture = () => page.getByTestId('bench').locator('canvas').screenshot();
  const isStill = (as: Buffer) => expect.poll(async () => (await picture()).equals(as));
  const [seated, before] = [await picture(), await jobOn(page)];
  const toggle = treeOn(page).getByRole('button', { name: 'Pull upper lower away from the rest' });
  await toggle.focus();
  await page.keyboard.press('Enter');
  await expect(toggle).toHaveAttribute('aria-pressed', 'true');
  await isStill(seated).toBe(false);
  expect(await jobOn(page)).toEqual(before);
  await toggle.click();
  await expect(toggle).toHaveAttribute('aria-pressed', 'false');
  await isStill(seated).toBe(true);

  await toggle.click();
  await isStill(seated).toBe(false);
  const apart = await picture();
  await page.getByRole('button', { name: /^Fit/ }).click();
  await isStill(apart).toBe(false);
});

test('a peg that a later seam runs through is offered what would clear it, told before it is done', async ({
  page,
}) => {
  await columnInThree(page);
  await treeOn(page)
    .getByRole('button', { name: /^upper \/ lower/ })
    .click();
  await page.getByRole('tab', { name: /^Peg/ }).click();
  const sizeTo = async (field: string, mm: string) => {
    await page.getByRole('textbox', { name: field, exact: true }).fill(mm);
    await page.getByRole('textbox', { name: field, exact: true }).press('Enter');
    await settled(page);
  };
  const peg = page.getByTestId('face-drawing').getByRole('button', { name: /^Peg 1/ });
  // One that a hand has placed stands where it is, whatever its size.
  await peg.focus();
  await page.keyboard.press('ArrowRight');
  await settled(page);
  await sizeTo('Width', '8');
  await sizeTo('Height', '8');
  await sizeTo('Length', '23');
  const crossing = page.locator('.finding', { hasText: 'reaches through the face of seam' });
  await expect(crossing).toHaveCount(1);
  await page.getByRole('button', { name: 'What would help?' }).first().click();
  const offer = page.getByRole('button', { name: /^Length .* mm, now 23.0 mm: clear, .* of wall$/ }).first();
  await offer.click();
  await settled(page);
  await expect(crossing).toHaveCount(0);
  await page.keyboard.press('Control+z');
  await expect(crossing).toHaveCount(1);
});
