import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from '@playwright/test';
import { buildHeron } from '../src/demo/heron.ts';
import { writeStlBinary } from '../src/io/stl-write.ts';
import { openBench, savedJob, settled } from './bench-page.ts';

/** Longest the page's own thread may be held, ms. */
const LONGEST_TASK_MS = 100;
/** Soonest after a click on Cancel that the page must be free again, ms. */
const CANCEL_MS = 500;

let folder = '';
let figure = '';

test.beforeAll(() => {
  test.setTimeout(240_000);
  folder = mkdtempSync(join(tmpdir(), 'pegwright-big-'));
  figure = join(folder, 'big-heron.stl');
  writeFileSync(figure, writeStlBinary(buildHeron({ triangles: 900_000 }), [0, 0, 0]));
});

test.afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('0.9 million triangles: the page stays free, cancel is prompt, nothing goes out', async ({
  page,
  baseURL,
}) => {
  test.setTimeout(240_000);
  const strangers: string[] = [];
  page.on('request', (request) => {
    const { origin, protocol } = new URL(request.url());
    if (origin !== baseURL && !['blob:', 'data:'].includes(protocol)) strangers.push(request.url());
  });
  await page.addInitScript(recordLongTasks);
  await openBench(page);
  const opened = await page.evaluate(() => performance.now());

  // Reading, cutting and pegging, up to the finished parts.
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open…' }).click();
  await (await chooser).setFiles(figure);
  await expect(page.getByTestId('status')).toContainText('big-heron.stl', { timeout: 60_000 });
  await settled(page);
  await page.getByTestId('seam-handle').focus();
  await page.keyboard.press('Shift+ArrowUp');
  await settled(page);
  const tasks = await page.evaluate(() => window.longTasks);
  const ours = tasks.filter(({ startTime }) => startTime > opened);
  expect(ours.filter(({ duration, uploads }) => duration - uploads > LONGEST_TASK_MS)).toEqual([]);

  // Cancel ends the work; the job and the figure stay.
  const before = await savedJob(page);
  const again = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open…' }).click();
  await (await again).setFiles(figure);
  await page.getByTestId('busy').waitFor();
  const took = await page.evaluate(async () => {
    const cancel = [...document.querySelectorAll('button')].find((b) => b.textContent === 'Cancel');
    if (!cancel) throw new Error('nothing to cancel');
    const start = performance.now();
    cancel.click();
    while (document.querySelector('[data-testid="busy"]')) await new Promise((r) => requestAnimationFrame(r));
    return performance.now() - start;
  });
  expect(took).toBeLessThan(CANCEL_MS);
  await settled(page);
  expect(await savedJob(page)).toEqual(before);
  expect(strangers).toEqual([]);
});

declare global {
  interface Window {
    longTasks: { startTime: number; duration: number; uploads: number }[];
  }
}

/**
 * Notes every task over 50 ms, and how much of it went into calls to the graphics card: with a
 * software renderer any of them may wait for this machine's own processor.
 */
function recordLongTasks(): void {
  window.longTasks = [];
  const spans: { start: number; end: number }[] = [];
  const proto = WebGL2RenderingContext.prototype as unknown as Record<string, unknown>;
  for (const [name, { value }] of Object.entries(Object.getOwnPropertyDescriptors(proto))) {
    if (typeof value !== 'function' || name === 'constructor') continue;
    proto[name] = function (this: unknown, ...args: unknown[]) {
      const start = performance.now();
      const answer = value.apply(this, args);
      const end = performance.now();
      if (end - start > 0.5) spans.push({ start, end });
      return answer;
    };
  }
  new PerformanceObserver((list) => {
    for (const { startTime, duration } of list.getEntries()) {
      const uploads = spans
        .filter(({ start }) => start >= startTime && start < startTime + duration)
        .reduce((sum, { start, end }) => sum + end - start, 0);
      window.longTasks.push({ duration, uploads, startTime });
    }
  }).observe({ type: 'longtask', buffered: true });
}
