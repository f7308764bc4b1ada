import { expect, type Page, test } from '@playwright/test';
import { type Job, throughOf } from '../src/index.ts';
import { box, fanned, legged, together } from '../test/support/simple-solids.ts';
import { middleOf, openFigure, savedJob, settled } from './bench-page.ts';
import { blockStl, stlFile } from './figure-files.ts';

const jobOn = async (page: Page) => (await savedJob(page)) as Job;

/** How many outlines the first seam cuts; null for all. */
const cutCount = async (page: Page) => throughOf((await jobOn(page)).seams[0].by)?.length ?? null;

test('a part is named in its place in the tree, hidden, and seen alone; the seam that divides it stands under it', async ({
  page,
}) => {
  await openFigure(page, 'block.stl', blockStl());
  const tree = page.getByRole('region', { name: 'Seams and pegs' });
  const names = tree.getByRole('textbox');
  await expect(names).toHaveCount(2);
  await names.first().fill('lid');
  await names.first().press('Enter');
  await settled(page);
  expect((await jobOn(page)).seams[0].names.front).toBe('lid');

  await tree.getByRole('button', { name: 'Add seam' }).click();
  await page.getByRole('menuitem', { name: 'lid' }).click();
  await settled(page);
  await expect(names).toHaveCount(4);
  const divided = tree.getByTestId(`part-${(await jobOn(page)).seams[0].id}.front`);
  await expect(divided.locator('xpath=..').getByRole('textbox')).toHaveCount(3);

  await tree.getByRole('button', { name: 'Hide lid', exact: true }).click();
  await expect(divided).toHaveAttribute('data-hidden', 'true');
  await expect(tree.locator('[data-hidden]')).toHaveCount(3);
  await page.getByRole('button', { name: 'Show all parts' }).click();
  await expect(tree.locator('[data-hidden]')).toHaveCount(0);
  await tree.getByRole('button', { name: 'Show lid alone', exact: true }).click();
  await expect(tree.locator('[data-hidden]')).toHaveCount(1);

  await page.getByRole('button', { name: 'Export…' }).click();
  const listed = page.getByRole('dialog').getByRole('listitem').locator('strong');
  await expect(listed).toHaveCount(3);
});

test('of a figure of two bodies one is divided, and the other is a part of its own', async ({ page }) => {
  const two = together(fanned(box([0, 0, 0], [25, 20, 20])), fanned(box([30, 0, 0], [40, 10, 30])));
  await openFigure(page, 'two.stl', stlFile(two));
  const tree = page.getByRole('region', { name: 'Seams and pegs' });
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  await page.getByRole('button', { name: 'Remove seam' }).click();
  await expect(tree.getByTestId('part-sculpt')).toBeVisible();

  await tree.getByRole('button', { name: 'Add seam' }).press('Enter');
  await expect(page.getByRole('menuitem')).toHaveText([
    'Divide the whole figure',
    'Divide two 1',
    'Divide two 2',
  ]);
  await page.keyboard.press('End');
  await page.keyboard.press('Enter');
  await settled(page);
  expect((await jobOn(page)).seams.map(({ of }) => of)).toEqual(['body:2']);
  await expect(tree.getByTestId('part-body:1')).toContainText('two 1');
  await expect(tree.getByTestId('part-body:2')).toContainText('two 2');
  await expect(tree.getByTestId('part-body:2').locator('xpath=..').getByRole('textbox')).toHaveCount(2);

  await page.getByRole('button', { name: 'Export…' }).click();
  const listed = page.getByRole('dialog').getByRole('listitem').locator('strong');
  await expect(listed).toHaveText(['two 1', 'two 2 upper', 'two 2 lower']);
});

test('of the outlines a plane makes those are cut that are chosen, on the figure or in the face drawing', async ({
  page,
}) => {
  await openFigure(page, 'legs.stl', stlFile(legged()));
  await page.getByRole('tab', { name: 'Seam' }).click();
  await page.getByRole('button', { name: /Square to$/ }).click();
  await page.getByRole('option', { name: 'Height (Z)' }).click();
  await settled(page);
  const offset = page.getByRole('textbox', { name: 'Offset' });
  await offset.fill('-8');
  await offset.press('Enter');
  await settled(page);
  const marks = page.getByRole('button', { name: /^Outline \d of the seam is cut/ });
  await expect(marks).toHaveCount(2);
  expect(await cutCount(page)).toBe(null);

  // In the drawing, by mouse: one is left whole.
  const box = (await page.getByTestId('face-choice-1').boundingBox())!;
  // Beside the peg that stands in its middle.
  await page.mouse.click(box.x + box.width * 0.33, box.y + box.height * 0.5);
  await settled(page);
  expect(await cutCount(page)).toBe(1);
  const area = Number(await page.getByTestId('seam-area').textContent());
  expect([120, 168]).toContain(area);

  // By key, on the one left whole: both are cut again.
  await page.getByTestId('face-choice-1').focus();
  await page.keyboard.press('Enter');
  await settled(page);
  expect(await cutCount(page)).toBe(null);

  // On the figure: the other one is left whole.
  await marks.first().click();
  await settled(page);
  expect(await cutCount(page)).toBe(1);
  expect(Number(await page.getByTestId('seam-area').textContent())).not.toBe(0);

  // The seam keeps to its leg while it is moved.
  const kept = Number(await page.getByTestId('seam-area').textContent());
  await page.getByTestId('seam-handle').focus();
  await page.keyboard.press('ArrowUp');
  await settled(page);
  expect(Number(await page.getByTestId('seam-area').textContent())).toBe(kept);
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await settled(page);
  expect(await cutCount(page)).toBe(null);
});

test('a peg is made round, sized by its grips and by keys, and its draft is typed as a taper', async ({
  page,
}) => {
  await openFigure(page, 'block.stl', blockStl());
  await page.getByRole('tab', { name: /^Peg/ }).click();
  await page.getByRole('button', { name: /Kind/ }).click();
  await page.getByRole('option', { name: 'Round tapered peg' }).click();
  await settled(page);
  const joint = async () => (await jobOn(page)).seams[0].joints[0];
  expect((await joint()).kind).toBe('round');
  await expect(page.getByTestId('peg-handle-spin')).toHaveCount(0);

  const grip = await middleOf(page, 'peg-handle-right');
  await page.mouse.move(grip.x, grip.y);
  await page.mouse.down();
  await page.mouse.move(grip.x + 12, grip.y, { steps: 4 });
  await page.mouse.up();
  await settled(page);
  const dragged = (await joint()).diameterMm!;
  expect(dragged).toBeGreaterThan(1);

  await page
    .getByTestId('face-drawing')
    .getByRole('button', { name: /^Peg 1/ })
    .focus();
  await page.keyboard.press('-');
  await settled(page);
  expect((await joint()).diameterMm!).toBeLessThan(dragged);

  const draft = page.getByRole('textbox', { name: 'Draft' });
  await draft.fill('1:10');
  await draft.press('Enter');
  await settled(page);
  // ISO 1119 (secondary copy): 1:10 is 5.72481° in all, half of it a side.
  expect((await joint()).draftDeg!).toBeCloseTo(5.72481 / 2, 4);
});

test('pegs are placed for a person, and changed so that the parts go together in one way', async ({
  page,
}) => {
  await openFigure(page, 'block.stl', blockStl());
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  const joints = async () => (await jobOn(page)).seams[0].joints;
  const before = await joints();
  const findings = page.getByRole('region', { name: 'Findings' });

  await page.getByRole('button', { name: 'Place 1 peg for me' }).click();
  await expect(page.getByTestId('message')).toContainText('One peg is placed');
  await settled(page);
  await findings.getByRole('button', { name: 'Make it go in one way only' }).click();
  const more = findings.getByRole('button', { name: /^One more peg: .* One way only/ });
  await more.click();
  await settled(page);
  expect(await joints()).toHaveLength(2);
  await expect(findings).not.toContainText('more than one way');

  await page.getByRole('button', { name: 'Place 3 pegs for me' }).press('Enter');
  await expect(page.getByTestId('message')).toContainText('3 pegs are placed, and they go in one way only');
  await settled(page);
  expect(await joints()).toHaveLength(3);
  await expect(findings).not.toContainText('more than one way');
  for (let i = 0; i < 3; i++) await page.keyboard.press('Control+z');
  await settled(page);
  expect(await joints()).toEqual(before);
});
