import { expect, type Page, test } from '@playwright/test';
import { glb, gltfDraft, threeMf } from '../test/support/scene-files.ts';
import { box, fanned, frustum } from '../test/support/simple-solids.ts';
import { drop, kept, openBare, openBench, savedJob, settled } from './bench-page.ts';
import { ball, brokenBall, stlFile } from './figure-files.ts';

interface SavedSculpt {
  sculpt: { file: string; also?: string[]; unit: string; scale: number; turn?: number[]; mend?: object[] };
  seams: { by: { kind: string; normal: number[]; offsetMm: number } }[];
}
const jobNow = async (page: Page) => (await savedJob(page)) as SavedSculpt;

/** Waits until the bench shows a sound sculpt, worked out. */
async function sound(page: Page): Promise<void> {
  await expect(page.getByTestId('soundness')).toContainText('closed and rightly wound');
  await settled(page);
}

/** The mark of a flaw, as far from the middle of the bench as that is wide, at most 1. */
async function markFromMiddle(page: Page): Promise<number> {
  const mark = page.getByTestId('defect-mark');
  const bench = await page.getByTestId('bench').boundingBox();
  if (!bench) throw new Error('no bench');
  const [x, y] = await Promise.all(['data-x', 'data-y'].map((name) => mark.getAttribute(name)));
  const away = Math.hypot(Number(x) - bench.x - bench.width / 2, Number(y) - bench.y - bench.height / 2);
  return away / bench.width;
}

test('a broken file is dropped, reported, visited and mended, and its mending undone and redone', async ({
  page,
}) => {
  await openBare(page);
  await drop(page, [{ name: 'broken.stl', buffer: stlFile(brokenBall(30)) }]);
  await expect(page.getByTestId('status')).toContainText('broken.stl');
  await expect(page.getByTestId('soundness')).toContainText('cannot be cut');
  const holes = page.getByTestId('defect-open-edges');
  await expect(holes).toContainText('2 holes');
  await expect(page.getByTestId('defect-specks')).toContainText('1 shell');

  // The camera goes to the flaw, and on to the next one.
  await expect(page.getByTestId('defect-mark')).toHaveCount(0);
  await holes.click();
  await expect(holes).toContainText('Place 1 of 2');
  await expect.poll(() => markFromMiddle(page)).toBeLessThan(0.02);
  const first = await page.getByTestId('bench').screenshot();
  await holes.press('Enter');
  await expect(holes).toContainText('Place 2 of 2');
  await expect.poll(() => markFromMiddle(page)).toBeLessThan(0.02);
  expect(await page.getByTestId('bench').screenshot()).not.toEqual(first);

  // A fill is tried first, and nothing has changed until it is accepted.
  await page.getByRole('button', { name: 'Fill smooth' }).click();
  await expect(page.getByTestId('price')).toContainText(/2 holes were filled.*mm³.*at most/);
  await expect(page.getByTestId('price')).toContainText('be sound');
  expect((await jobNow(page)).sculpt.mend).toBeUndefined();
  await page.getByRole('button', { name: 'Leave it' }).click();
  await expect(page.getByTestId('price')).toHaveCount(0);

  await page.getByRole('button', { name: 'Fill flat' }).click();
  await page.getByTestId('price').getByRole('button', { name: 'Accept' }).click();
  await sound(page);
  await expect(page.getByTestId('repairs')).toContainText('2 holes were filled');
  await expect(page.getByTestId('agreed')).toContainText('Fill holes flat');
  const filled = await jobNow(page);
  expect(filled.sculpt.mend).toEqual([{ do: 'fill-holes', how: 'flat' }]);

  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByTestId('soundness')).toContainText('cannot be cut');
  await expect(holes).toContainText('2 holes');
  await page.getByRole('button', { name: 'Redo' }).click();
  await sound(page);

  // The figure is made 180 mm high.
  const height = page.getByRole('textbox', { name: 'Height' });
  await height.fill('180');
  await height.press('Enter');
  await expect(page.getByTestId('sculpt-size')).toHaveText(/× 180\.0 mm$/);
  await sound(page);
  const { sculpt, seams } = await jobNow(page);
  expect(sculpt.scale).toBeGreaterThan(2);
  await expect(page.getByTestId('status')).toContainText('180.0 mm');
  expect(seams[0].by.offsetMm).toBeCloseTo(filled.seams[0].by.offsetMm * sculpt.scale, 6);

  await page.getByRole('button', { name: 'Take back: Fill holes flat' }).click();
  await expect(page.getByTestId('soundness')).toContainText('cannot be cut');
});

test('specks are dropped and a new skin is priced before it is put on', async ({ page }) => {
  await openBare(page);
  await drop(page, [{ name: 'broken.stl', buffer: stlFile(brokenBall(30)) }]);
  await page.getByRole('button', { name: 'Drop specks…' }).click();
  await page.getByRole('button', { name: 'Try it' }).click();
  await expect(page.getByTestId('price')).toContainText('1 small shell was dropped');
  await page.getByRole('button', { name: 'Accept' }).click();
  await expect(page.getByTestId('agreed')).toContainText('Drop specks');
  await expect(page.getByTestId('defects')).toBeVisible();
  await expect(page.getByTestId('defect-specks')).toHaveCount(0);

  await page.getByRole('button', { name: 'New skin…' }).first().click();
  await expect(page.getByTestId('estimate')).toContainText(/About [\d\s]+ triangles/);
  const cell = page.getByRole('textbox', { name: 'Cell' });
  await cell.fill('2');
  await cell.press('Enter');
  const coarse = await page.getByTestId('estimate').textContent();
  await cell.fill('1');
  await cell.press('Enter');
  await expect(page.getByTestId('estimate')).not.toHaveText(coarse ?? '');
  await page.getByRole('button', { name: 'Try it' }).click();
  await expect(page.getByTestId('price')).toContainText(/A new skin of [\d\s]+ triangles.*mm³.*at most/);
  await page.getByRole('button', { name: 'Accept' }).click();
  await sound(page);
  expect((await jobNow(page)).sculpt.mend).toMatchObject([
    { do: 'drop-specks' },
    { do: 're-skin', cellMm: 1 },
  ]);
});

test('several files dropped together are one figure, kept together until the next visit', async ({
  page,
  context,
}) => {
  await openBare(page);
  const files = ['left', 'right'].map((name, i) => ({
    name: `${name}.stl`,
    buffer: stlFile({ ...ball(20), positions: ball(20).positions.map((v, k) => (k % 3 ? v : v + i * 30)) }),
  }));
  await drop(page, files);
  await expect(page.getByTestId('status')).toContainText('left.stl');
  await settled(page);
  await page.getByRole('tab', { name: 'Sculpt' }).click();
  await expect(page.getByTestId('sculpt-files')).toContainText('right.stl');
  await expect(page.getByTestId('sculpt-bodies')).toHaveText('2');
  const job = await jobNow(page);
  expect(job.sculpt).toMatchObject({ file: 'left.stl', also: ['right.stl'] });
  await kept(page, job);
  await page.close();
  const again = await context.newPage();
  await openBench(again);
  await expect(again.getByTestId('status')).toContainText('left.stl');
  expect(await savedJob(again)).toEqual(job);

  // They overlap, which looking them over tells, and can be made one.
  await again.getByRole('tab', { name: 'Sculpt' }).click();
  await again.getByRole('button', { name: 'Look it over' }).click();
  await expect(again.getByTestId('defect-overlapping-shells')).toContainText('1 pair of shells');
  await again.getByRole('button', { name: 'Unite', exact: true }).click();
  await expect(again.getByTestId('price')).toContainText(/united with the one overlapped.*mm³/);
  await again.getByRole('button', { name: 'Accept' }).click();
  await sound(again);
  await expect(again.getByTestId('sculpt-bodies')).toHaveText('1');
  expect((await jobNow(again)).sculpt.mend).toEqual([{ do: 'unite' }]);
});

test('a GLB, a glTF with its buffer and a 3MF open with the unit they declare', async ({ page }) => {
  await openBare(page);
  await drop(page, [{ name: 'tower.glb', buffer: Buffer.from(glb(gltfDraft(frustum(40, 20, 90)))) }]);
  await expect(page.getByTestId('status')).toContainText('tower.glb');
  await settled(page);
  await page.getByRole('tab', { name: 'Sculpt' }).click();
  await expect(page.getByTestId('sculpt-size')).toHaveText('40.0 × 40.0 × 90.0 mm');
  await expect(page.getByTestId('health').locator('..')).toContainText('its numbers are metres');
  expect((await jobNow(page)).sculpt.unit).toBe('m');
  const { json, bin } = gltfDraft(frustum(40, 20, 70));
  const named = { ...json, buffers: [{ ...json.buffers[0], uri: 'tower.bin' }] };
  await drop(page, [
    { name: 'tower.bin', buffer: Buffer.from(bin) },
    { name: 'tower.gltf', buffer: Buffer.from(JSON.stringify(named)) },
  ]);
  await expect(page.getByTestId('sculpt-size')).toHaveText('40.0 × 40.0 × 70.0 mm');
  expect((await jobNow(page)).sculpt).toMatchObject({ file: 'tower.gltf', also: ['tower.bin'], unit: 'm' });
  const block = threeMf(box([0, 0, 0], [2, 2, 3]), 'unit="inch"');
  await drop(page, [{ name: 'block.3mf', buffer: Buffer.from(block) }]);
  await expect(page.getByTestId('status')).toContainText('block.3mf');
  await settled(page);
  await expect(page.getByTestId('sculpt-size')).toHaveText('50.8 × 50.8 × 76.2 mm');
  expect((await jobNow(page)).sculpt.unit).toBe('inch');
});

test('a figure in metres is proposed as such, and stood the other way up', async ({ page }) => {
  await openBare(page);
  await drop(page, [{ name: 'person.stl', buffer: stlFile(fanned(box([0, 0, 0], [0.4, 0.3, 1.8]))) }]);
  await expect(page.getByTestId('unit-advice')).toContainText('metres');
  expect((await jobNow(page)).sculpt.unit).toBe('mm');
  await page.getByRole('button', { name: 'Take metres' }).click();
  await expect(page.getByTestId('unit-advice')).toHaveCount(0);
  await sound(page);
  const before = await jobNow(page);
  expect(before.sculpt.unit).toBe('m');
  await page.getByRole('button', { name: 'Unit of the file' }).click();
  await expect(page.getByRole('option', { name: /^metres .*proposed/ })).toBeVisible();
  await expect(page.getByRole('option', { name: /^inches / })).toContainText('mm');
  await page.keyboard.press('Escape');

  await page.getByRole('button', { name: 'Quarter turn about X' }).click();
  await sound(page);
  const turned = await jobNow(page);
  expect(turned.sculpt.turn?.[0]).toBeCloseTo(Math.SQRT1_2, 9);
  expect(before.seams[0].by).toEqual({ kind: 'plane', normal: [0, 0, 1], offsetMm: 900 });
  expect(turned.seams[0].by).toEqual({ kind: 'plane', normal: [0, -1, 0], offsetMm: 900 });
  await page.getByRole('button', { name: 'Undo' }).click();
  await sound(page);
  expect(await jobNow(page)).toEqual(before);
});

test('a tilted block is stood on the bed', async ({ page }) => {
  await openBare(page);
  const tilt = (15 * Math.PI) / 180;
  const solid = box([-10, -10, 0], [10, 10, 45]);
  const vertices = solid.vertices.map(([x, y, z]): [number, number, number] => [
    x,
    y * Math.cos(tilt) - z * Math.sin(tilt),
    y * Math.sin(tilt) + z * Math.cos(tilt),
  ]);
  await drop(page, [{ name: 'block.3mf', buffer: Buffer.from(threeMf({ ...solid, vertices })) }]);
  await expect(page.getByTestId('status')).toContainText('block.3mf');
  await settled(page);
  await page.getByRole('tab', { name: 'Sculpt' }).click();
  await expect(page.getByTestId('sculpt-size')).not.toContainText('× 45.0 mm');
  await page.getByRole('button', { name: 'Stand on the bed' }).click();
  await expect(page.getByTestId('sculpt-size')).toHaveText('20.0 × 20.0 × 45.0 mm');
  await sound(page);
});
