import { expect, type Page, test } from '@playwright/test';
import { freshJob } from '../app/state/new-seam.ts';
import { type Job, PROCESSES, planeSeam } from '../src/index.ts';
import { box, fanned } from '../test/support/simple-solids.ts';
import { drop, openBare, savedJob, settled } from './bench-page.ts';
import { stlFile } from './figure-files.ts';

const bounds = { min: [-20, -20, -20], max: [20, 20, 20] } as const;

/** A block cut level, with a peg in the middle. */
async function openBlock(page: Page): Promise<void> {
  const job = freshJob({ file: 'block.stl', unit: 'mm', scale: 1 }, bounds, PROCESSES[0].process);
  const joints = [{ id: 'a', kind: 'taper', at: [0, 0, 0], widthMm: 8, lengthMm: 6 } as const];
  const seam = { ...job.seams[0], by: planeSeam([0, 0, 1], 0), joints };
  await openBare(page);
  await drop(page, [
    { name: 'block.stl', buffer: stlFile(fanned(box([-20, -20, -20], [20, 20, 20]))) },
    { name: 'asked.json', buffer: Buffer.from(JSON.stringify({ ...job, seams: [seam] })) },
  ]);
  await expect(page.getByTestId('status')).toContainText('block.stl');
  await settled(page);
  await page.getByRole('tab', { name: 'Peg 1' }).click();
}

const jointIn = async (page: Page) => ((await savedJob(page)) as Job).seams[0].joints[0];

async function choose(page: Page, kind: string): Promise<void> {
  await page.getByRole('button', { name: /Kind/ }).click();
  await page.getByRole('option', { name: kind, exact: true }).click();
  await settled(page);
}

test('each section is chosen, sized by a grip and by a field, and measured', async ({ page }) => {
  await openBlock(page);
  for (const [kind, field] of [
    ['D tapered peg', 'Diameter'],
    ['Bar tapered peg', 'Width'],
    ['Own outline', 'Width'],
  ] as const) {
    await choose(page, kind);
    const size = page.getByRole('textbox', { name: new RegExp(`^${field}`) });
    await size.fill('9');
    await size.press('Enter');
    await settled(page);
    const before = await page.getByTestId('peg-handle-right').boundingBox();
    if (!before) throw new Error('no grip');
    await page.mouse.move(before.x + before.width / 2, before.y + before.height / 2);
    await page.mouse.down();
    await page.mouse.move(before.x + before.width / 2 + 12, before.y + before.height / 2, { steps: 3 });
    await page.mouse.up();
    await settled(page);
    const joint = await jointIn(page);
    expect(Math.max(joint.widthMm ?? 0, joint.diameterMm ?? 0), kind).toBeGreaterThan(9.1);
    await expect(page.getByTestId('status')).not.toContainText('error');
  }
});

test('an outline is drawn click by click, its corners are dragged, and each is one step of undo', async ({
  page,
}) => {
  await openBlock(page);
  await choose(page, 'Own outline');
  await page.getByRole('button', { name: 'Draw its outline' }).click();
  const face = await page.getByTestId('face-outline').boundingBox();
  if (!face) throw new Error('no face');
  const perMm = face.width / 40;
  const at = (x: number, y: number) => [face.x + perMm * (20 + x), face.y + perMm * (20 - y)] as const;
  const corners = [
    [-4, -4],
    [6, -4],
    [6, 0],
    [0, 0],
    [0, 6],
    [-4, 6],
  ] as const;
  for (const [x, y] of corners) await page.mouse.click(...at(x, y));
  await expect(page.getByText('6 corners: click on')).toBeVisible();
  await page.mouse.click(...at(-4, -4));
  await settled(page);
  const drawn = (await jointIn(page)) as unknown as { outlineMm: [number, number][]; at: number[] };
  expect(drawn.outlineMm).toHaveLength(6);
  const sides = drawn.outlineMm.map(([x, y], i) => {
    const [nx, ny] = drawn.outlineMm[(i + 1) % 6]!;
    return Math.hypot(nx - x, ny - y);
  });
  for (const [i, mm] of [10, 4, 6, 6, 4, 10].entries()) expect(Math.abs(sides[i]! - mm)).toBeLessThan(0.3);
  const grip = await page.getByTestId('peg-corner-1').boundingBox();
  if (!grip) throw new Error('no corner');
  await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2);
  await page.mouse.down();
  await page.mouse.move(...at(8, -5), { steps: 3 });
  await page.mouse.up();
  await settled(page);
  const dragged = (await jointIn(page)) as unknown as { outlineMm: [number, number][] };
  expect(dragged.outlineMm[1]).not.toEqual(drawn.outlineMm[1]);
  expect(dragged.outlineMm[0]).toEqual(drawn.outlineMm[0]);
  await page.getByRole('button', { name: 'Undo' }).click();
  await settled(page);
  expect(await jointIn(page)).toEqual(drawn);
});

test('an outline is taken from a path that is typed and from an SVG file, or refused in one sentence', async ({
  page,
}) => {
  await openBlock(page);
  await choose(page, 'Own outline');
  const path = page.getByRole('textbox', { name: 'Outline as an SVG path, in mm' });
  await path.fill('M0 0H8V3H3V9H0Z');
  await path.press('Enter');
  await settled(page);
  expect(await jointIn(page)).toMatchObject({ outlineMm: { length: 6 } });
  const before = await jointIn(page);
  await path.fill('M0 0L8 8H0L8 0Z');
  await path.press('Enter');
  await expect(page.getByTestId('message')).toHaveText(
    /An outline must not cross or touch itself; move the sides that do apart\./,
  );
  expect(await jointIn(page)).toEqual(before);
  const open = async (inside: string) => {
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Open an SVG' }).click();
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">${inside}</svg>`;
    await (await chooser).setFiles({ name: 'star.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(svg) });
  };
  await open('<circle r="4"/><circle r="2"/>');
  await expect(page.getByTestId('message')).toContainText('star.svg: there are 2 outlines in it');
  await open('<polygon points="5,0 6,4 10,5 6,6 5,10 4,6 0,5 4,4"/>');
  await settled(page);
  expect(await jointIn(page)).toMatchObject({ outlineMm: { length: 8 } });
});
