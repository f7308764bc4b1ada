import { resolve } from 'node:path';
import { type Browser, chromium, type Page } from '@playwright/test';
import { build, preview } from 'vite';
import { middleOf, settled } from '../../e2e/bench-page.ts';
import config from '../../playwright.config.ts';
import { type BenchFigure, bytesOf } from './figures.ts';
import { median, percentile, type Row, row } from './row.ts';

/**
 * The page's own script while a hand drags a seam and a peg on a big figure: time of the main thread's outermost
 * script calls from one pointer move to the next, read from the browser's trace.
 */

const MOVES = 60;
const configFile = resolve(import.meta.dirname, '../../vite.config.ts');

export async function pageRows(figure: BenchFigure): Promise<Row[]> {
  await build({ configFile, logLevel: 'error' });
  const server = await preview({ configFile, preview: { port: 4187, strictPort: true } });
  const browser = await chromium.launch(config.use?.launchOptions ?? {});
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await page.goto('http://localhost:4187/');
    await settled(page);
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Open…' }).click();
    await (await chooser).setFiles(figure.path);
    await page.waitForFunction(() =>
      document.querySelector('[data-testid="status"]')?.textContent?.includes('heron-'),
    );
    await settled(page);
    const who = { name: figure.name, triangles: (bytesOf(figure.path).length - 84) / 50 };
    const rows: Row[] = [];
    for (const [what, grip, away] of [
      ['a seam', 'seam-handle', { x: 0.35, y: 0.6 }],
      ['a peg', 'face-peg-0', { x: 0.5, y: 0.2 }],
    ] as const) {
      const times = await scriptTimes(browser, page, grip, away);
      rows.push(
        row(`page: script per pointer move, dragging ${what}, p95`, who, percentile(times, 0.95), {
          atMost: 8,
        }),
        row(`page: script per pointer move, dragging ${what}, median`, who, median(times)),
      );
    }
    return rows;
  } finally {
    await browser.close();
    await server.close();
  }
}

interface TraceEvent {
  name: string;
  ph: string;
  pid: number;
  tid: number;
  ts: number;
  dur?: number;
  tdur?: number;
  args: { name?: string; data?: { type?: string } };
}

const SCRIPT = new Set([
  'EventDispatch',
  'FunctionCall',
  'FireAnimationFrame',
  'TimerFire',
  'RunMicrotasks',
  'v8.run',
  'V8.GCScavenger',
  'MinorGC',
  'MajorGC',
]);

async function scriptTimes(
  browser: Browser,
  page: Page,
  grip: string,
  away: { x: number; y: number },
): Promise<number[]> {
  const from = await middleOf(page, grip);
  await browser.startTracing(page, { categories: ['devtools.timeline', '__metadata'] });
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  for (let move = 1; move <= MOVES; move++) {
    const swing = Math.sin((move / MOVES) * 2 * Math.PI) * 14;
    await page.mouse.move(from.x + swing * away.x, from.y + swing * away.y);
    await page.waitForTimeout(16);
  }
  await page.mouse.up();
  const trace = JSON.parse((await browser.stopTracing()).toString('utf8')) as { traceEvents: TraceEvent[] };
  await settled(page);
  return perMove(trace.traceEvents);
}

/** Sums the outermost script calls of the page's thread between one pointer move and the next, ms of its processor time. */
function perMove(events: readonly TraceEvent[]): number[] {
  const main = new Set(
    events
      .filter(({ name, args }) => name === 'thread_name' && args.name === 'CrRendererMain')
      .map(({ pid, tid }) => `${pid} ${tid}`),
  );
  const mine = events
    .filter(({ name, ph, pid, tid }) => ph === 'X' && SCRIPT.has(name) && main.has(`${pid} ${tid}`))
    .sort((a, b) => a.ts - b.ts);
  const sums: number[] = [];
  let end = 0;
  for (const { name, ts, dur = 0, tdur = dur, args } of mine) {
    if (name === 'EventDispatch' && args.data?.type === 'pointermove') sums.push(0);
    if (ts < end || sums.length === 0) continue;
    end = ts + dur;
    sums[sums.length - 1] += tdur / 1000;
  }
  if (sums.length < MOVES / 2) throw new Error(`only ${sums.length} pointer moves are in the trace`);
  return sums.slice(1);
}
