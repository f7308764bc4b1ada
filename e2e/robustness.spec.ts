import { expect, test } from '@playwright/test';
import { unzipSync } from 'fflate';
import { onlyHere } from '../src/kernel/kernels.ts';
import { loadKernel } from '../src/kernel/load.ts';
import { createEvaluator } from '../src/pipeline/evaluate.ts';
import { lumpySphere } from '../test/support/figures.ts';
import { jobOf, sculptOf } from '../test/support/job.ts';
import {
  bytesOf,
  choose,
  drop,
  kept,
  openBare,
  openBench,
  openFigure,
  savedJob,
  settled,
} from './bench-page.ts';
import { stlFile } from './figure-files.ts';
import { boxStl, pngBytes, withoutFacets } from './sample-files.ts';
import { openEdgeCount, stlTriangles, volumeOf } from './stl-measure.ts';

const BAD_FILES = [
  {
    what: 'an empty file',
    name: 'empty.stl',
    bytes: () => Buffer.alloc(0),
    says: /empty\.stl: the file is empty/,
  },
  {
    what: 'a truncated file',
    name: 'short.stl',
    bytes: () => boxStl(20).subarray(0, 84 + 50 * 7),
    says: /short\.stl: the file ends early/,
  },
  {
    what: 'a picture by another name',
    name: 'photo.stl',
    bytes: pngBytes,
    says: /photo\.stl: this is .*not a mesh/,
  },
];

for (const { what, name, bytes, says } of BAD_FILES) {
  test(`${what} gets one sentence and changes nothing`, async ({ page }) => {
    await openFigure(page, 'block.stl', boxStl(20));
    const before = await savedJob(page);
    const area = await page.getByTestId('seam-area').textContent();
    await choose(page, name, bytes());
    await expect(page.getByTestId('message')).toHaveText(says);
    const sentence = (await page.getByTestId('message').textContent()) ?? '';
    expect(sentence.match(/[.!?](\s|$)/g)).toHaveLength(1);
    await settled(page);
    expect(await savedJob(page)).toEqual(before);
    await expect(page.getByTestId('seam-area')).toHaveText(area ?? '');
  });
}

test('a mesh with a hole through the seam comes onto the bench with its report', async ({ page }) => {
  await openFigure(page, 'block.stl', boxStl(20));
  await choose(page, 'holed.stl', withoutFacets(boxStl(20), 1));
  await expect(page.getByTestId('message')).toHaveText(
    /holed\.stl: the mesh is not closed, it has 3 open edges/,
  );
  await expect(page.getByTestId('soundness')).toContainText('cannot be cut');
  await expect(page.getByTestId('defect-open-edges')).toContainText('1 hole');
  await expect(page.getByRole('button', { name: 'Export…' })).toBeDisabled();
  // Files that cannot be read leave it there.
  await choose(page, 'empty.stl', Buffer.alloc(0));
  await expect(page.getByTestId('message')).toHaveText(/empty\.stl: the file is empty/);
  await expect(page.getByTestId('sculpt-files')).toHaveText('holed.stl');
  await expect(page.getByTestId('defect-open-edges')).toBeVisible();
});

test('a good file gets a seam and a peg at once', async ({ page }) => {
  await openBare(page);
  await choose(page, 'block.stl', boxStl(20));
  await expect(page.getByTestId('status')).toContainText('block.stl');
  await settled(page);
  await expect(page.getByTestId('seam-area')).toHaveText('400.0');
  await expect(page.getByTestId('seam-perimeter')).toHaveText('80.0');
  await expect(page.getByTestId('face-peg-0')).toBeVisible();
});

test('the last job and sculpt come back after the tab was closed', async ({ page, context }) => {
  await openFigure(page, 'block.stl', boxStl(20));
  await page.getByTestId('seam-handle').focus();
  await page.keyboard.press('Shift+ArrowUp');
  await settled(page);
  const job = await savedJob(page);
  await kept(page, job);
  await page.close();
  const again = await context.newPage();
  await openBench(again);
  await expect(again.getByTestId('status')).toContainText('block.stl');
  expect(await savedJob(again)).toEqual(job);
});

test('a dead engine is replaced and the job goes on', async ({ page }) => {
  // The page's own worker is made to fail as a crash would: by an uncaught error within it.
  await page.addInitScript(() => {
    const Plain = Worker;
    window.Worker = class extends Plain {
      constructor(url: string | URL, options?: WorkerOptions) {
        super(url, options);
        // The worker that proves comes when the hand has rested, sooner or later.
        if (/kernel/.test(String(url))) return;
        (window as unknown as { workers: Worker[] }).workers ??= [];
        (window as unknown as { workers: Worker[] }).workers.push(this);
      }
    };
  });
  await openFigure(page, 'block.stl', boxStl(20));
  const before = await savedJob(page);
  await page.evaluate(() => {
    const { workers } = window as unknown as { workers: Worker[] };
    workers.at(-1)?.dispatchEvent(new ErrorEvent('error', { message: 'the engine died' }));
  });
  await expect(page.getByTestId('message')).toContainText(/started again|restarted/);
  await settled(page);
  expect(await savedJob(page)).toEqual(before);
  await page.getByTestId('seam-handle').focus();
  await page.keyboard.press('Shift+ArrowUp');
  await settled(page);
  expect(await savedJob(page)).not.toEqual(before);
  expect(await page.evaluate(() => (window as unknown as { workers: Worker[] }).workers.length)).toBe(2);
});

test('a peg that takes up its whole part is joined all the same, both parts at once', async ({ page }) => {
  const job = jobOf([{ pegs: [{ kind: 'taper', at: [0, 0, 0], widthMm: 12, heightMm: 12, lengthMm: 8 }] }]);
  const mesh = lumpySphere(3, 6);
  const here = await createEvaluator(onlyHere(await loadKernel()), await sculptOf(mesh)).evaluate(job);
  expect(here.evaluation.seams[0].joints.map(({ way }) => way)).toEqual(['kernel']);
  await openBare(page);
  await drop(page, [
    { name: 'figure.stl', buffer: stlFile(mesh) },
    { name: 'job.json', buffer: Buffer.from(JSON.stringify(job)) },
  ]);
  await expect(page.getByTestId('status')).toContainText('figure.stl');
  await settled(page);
  await page.getByRole('button', { name: 'Export…' }).click();
  const download = page.waitForEvent('download');
  await page.getByTestId('export-all').click();
  const files = Object.values(unzipSync(await bytesOf(await download)))
    .map(stlTriangles)
    .sort((a, b) => volumeOf(a) - volumeOf(b));
  const volumes = here.evaluation.parts.map(({ volumeMm3 }) => volumeMm3).sort((a, b) => a - b);
  expect(files.map(openEdgeCount)).toEqual([0, 0]);
  files.forEach((triangles, i) => {
    expect(Math.abs(volumeOf(triangles) - volumes[i])).toBeLessThan(1e-6 * volumes[i]);
  });
});
