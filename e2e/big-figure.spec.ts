import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, expect, type Page, test } from '@playwright/test';
import { buildHeron } from '../src/demo/heron.ts';
import { writeStlBinary } from '../src/io/stl-write.ts';
import { openBench, savedJob, settled } from './bench-page.ts';

/** Longest the page's own thread may be held by one task, ms. */
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
  browser,
  page,
  baseURL,
}) => {
  test.setTimeout(240_000);
  const strangers: string[] = [];
  page.on('request', (request) => {
    const { origin, protocol } = new URL(request.url());
    if (origin !== baseURL && !['blob:', 'data:'].includes(protocol)) strangers.push(request.url());
  });
  await openBench(page);

  // Reading, cutting and pegging, up to the finished parts.
  const times = await taskTimes(browser, page, async () => {
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Open…' }).click();
    await (await chooser).setFiles(figure);
    await expect(page.getByTestId('status')).toContainText('big-heron.stl', { timeout: 60_000 });
    await settled(page);
    await page.getByTestId('seam-handle').focus();
    await page.keyboard.press('Shift+ArrowUp');
    await settled(page);
  });
  expect(times.length).toBeGreaterThan(100);
  expect(times[0]).toBeLessThan(LONGEST_TASK_MS);

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

interface TraceEvent {
  name: string;
  ph: string;
  pid: number;
  tid: number;
  /** Begin, µs. */
  ts: number;
  /** Processor time of the thread, µs. */
  tdur?: number;
  args: { name?: string };
}

/**
 * Records every task of the page's own thread while `work` runs.
 * @returns their processor times, ms, the longest first: what the page itself did, whoever else wanted the processor.
 */
async function taskTimes(browser: Browser, page: Page, work: () => Promise<void>): Promise<number[]> {
  await browser.startTracing(page, { categories: ['toplevel', '__metadata'] });
  await work();
  const trace = JSON.parse((await browser.stopTracing()).toString('utf8')) as { traceEvents: TraceEvent[] };
  const mainThreads = new Set(
    trace.traceEvents
      .filter(({ name, args }) => name === 'thread_name' && args.name === 'CrRendererMain')
      .map(({ pid, tid }) => `${pid} ${tid}`),
  );
  const tasks = trace.traceEvents.filter(
    ({ name, ph, pid, tid }) => ph === 'X' && name.endsWith('RunTask') && mainThreads.has(`${pid} ${tid}`),
  );
  return tasks.map(({ tdur = 0 }) => tdur / 1000).sort((a, b) => b - a);
}
