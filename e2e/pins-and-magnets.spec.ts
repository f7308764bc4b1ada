import { expect, type Page, test } from '@playwright/test';
import { unzipSync } from 'fflate';
import type { Job } from '../src/index.ts';
import { bytesOf, drag, middleOf, openFigure, savedJob, settled } from './bench-page.ts';
import { blockStl } from './figure-files.ts';
import { openEdgeCount, stlTriangles } from './stl-measure.ts';

const joint = async (page: Page) => ((await savedJob(page)) as Job).seams[0].joints[0];

async function choose(page: Page, label: RegExp, option: string): Promise<void> {
  await page.getByRole('button', { name: label }).click();
  await page.getByRole('option', { name: option, exact: true }).click();
  await settled(page);
}

async function openPeg(page: Page, kind: string): Promise<void> {
  await openFigure(page, 'block.stl', blockStl());
  await page.getByRole('tab', { name: 'Peg 1' }).click();
  await choose(page, /Kind$/, kind);
  // Lists of rows and fields have grown by then: what is pressed stays where it is.
  await expect(page.getByTestId('joint-supply')).toBeVisible();
}

test('a pin is chosen, sized by what is offered and by hand, drawn whole, and written as a part', async ({
  page,
}) => {
  await openPeg(page, 'Loose pin');
  await choose(page, /Standard size$/, '6 mm');
  expect(await joint(page)).toMatchObject({ kind: 'pin', diameterMm: 6 });
  const depth = page.getByRole('textbox', { name: 'Depth a side' });
  await depth.fill('7');
  await depth.press('Enter');
  await settled(page);
  expect(await joint(page)).toMatchObject({ depthMm: 7 });
  await expect(page.getByTestId('section-loose').first()).toHaveAttribute('d', /^M/);
  await expect(page.getByTestId('section-side-gap')).toHaveText('0.12');
  const tree = page.getByRole('region', { name: 'Seams and pegs' });
  await expect(tree.getByText('1 round pin, 6 × 14 mm: print or get it')).toBeVisible();

  // A grip of the outline changes the diameter, and what is typed is none of those offered any more.
  await drag(page, await middleOf(page, 'peg-handle-right'), { x: 9, y: 0 });
  await settled(page);
  const { diameterMm } = await joint(page);
  expect(diameterMm).toBeGreaterThan(6);
  await expect(page.getByRole('textbox', { name: 'Diameter' })).not.toHaveValue('6');

  await page.getByRole('button', { name: 'Export…' }).click();
  await expect(page.getByTestId('to-get')).toContainText('1 round pin');
  const download = page.waitForEvent('download');
  await page.getByTestId('export-all').click();
  const files = unzipSync(await bytesOf(await download));
  expect(Object.keys(files)).toHaveLength(3);
  const rod = Object.keys(files).find((name) => /-pin-/.test(name));
  expect(rod).toBeDefined();
  expect(openEdgeCount(stlTriangles(files[rod ?? '']))).toBe(0);
});

test('magnets are chosen with their size, their poles are told, and what to mind of them', async ({
  page,
}) => {
  await openPeg(page, 'Magnets');
  await choose(page, /Standard size$/, '6 × 3 mm');
  expect(await joint(page)).toMatchObject({ kind: 'magnet', diameterMm: 6, thicknessMm: 3 });
  await expect(page.getByTestId('peg-poles')).toContainText('turns its N pole');
  await expect(page.getByTestId('peg-poles')).toContainText('turns its S pole');
  await expect(page.getByTestId('caution-small-magnet')).toContainText('swallowed');
  const drawing = page.getByTestId('section-drawing');
  await expect(drawing.getByText('N', { exact: true })).toHaveCount(2);
  await expect(drawing.getByText('S', { exact: true })).toHaveCount(2);

  const cover = page.getByRole('textbox', { name: 'Cover' });
  await cover.fill('0.6');
  await cover.press('Enter');
  await settled(page);
  await expect(page.getByTestId('caution-closed-in-print')).toContainText('0.60 mm');

  const tree = page.getByRole('region', { name: 'Seams and pegs' });
  await expect(tree.getByText('2 disc magnets, 6 × 3 mm: get them')).toBeVisible();
  await page.getByRole('button', { name: 'Export…' }).click();
  const sheet = page.getByRole('dialog');
  await expect(sheet.getByTestId('to-get')).toContainText('2 disc magnets, 6 × 3 mm');
  await expect(sheet.getByText(/can be swallowed/)).toBeVisible();
  await expect(sheet.getByRole('listitem').locator('strong')).toHaveCount(2);
});
