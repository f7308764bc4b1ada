import { basename, resolve } from 'node:path';
import { type Browser, chromium, type Page } from '@playwright/test';
import { build, preview } from 'vite';
import { clickWhenThere, middleOf, settled } from '../../e2e/bench-page.ts';
import config from '../../playwright.config.ts';
import type { Job } from '../../src/model/job.ts';
import { type BenchFigure, bytesOf } from './figures.ts';
import { scriptPerMove, taskTimes, traced } from './page-trace.ts';
import { median, percentile, type Row, row } from './row.ts';

/** The page on a big figure: how long its own thread is held by opening, by cancelling, and by each move of a hand. */

const MOVES = 60;
const configFile = resolve(import.meta.dirname, '../../vite.config.ts');

/** `manySeams`: the figure's job of eight seams with twenty joints. */
export async function pageRows(figure: BenchFigure, manySeams: Job, runs: number): Promise<Row[]> {
  await build({ configFile, logLevel: 'error' });
  const server = await preview({ configFile, preview: { port: 4187, strictPort: true } });
  const browser = await chromium.launch(config.use?.launchOptions ?? {});
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await page.goto('http://localhost:4187/');
    await settled(page);
    const who = { name: figure.name, triangles: (bytesOf(figure.path).length - 84) / 50 };
    const rows = [await openingRow(browser, page, figure, who), await paceRow(page, who)];
    const drags = async (what: string, grip: string, away: Way) =>
      dragRows(what, who, await dragTimes(browser, page, grip, away, runs));
    rows.push(...(await drags('a seam', 'seam-handle', { x: 0.35, y: 0.6 })));
    rows.push(...(await drags('a peg', 'face-peg-0', { x: 0.5, y: 0.2 })));
    rows.push(await cancelRow(page, figure, who));
    await chooseJob(page, figure, manySeams);
    rows.push(...(await drags('one joint of twenty in eight seams', 'face-peg-0', { x: 0.5, y: 0.2 })));
    return rows;
  } finally {
    await browser.close();
    await server.close();
  }
}

type Who = Parameters<typeof row>[1];
/** Which way a grip is dragged, CSS px for each of swing. */
type Way = { x: number; y: number };

/** Script per pointer move of several drags, each its moves' times. */
function dragRows(what: string, who: Who, drags: readonly number[][]): Row[] {
  const p95s = drags.map((times) => percentile(times, 0.95));
  const script = `page: script per pointer move, dragging ${what}`;
  return [
    row(`${script}, p95`, who, median(p95s), { atMost: 8 }),
    row(`${script}, p95 of the slowest drag`, who, Math.max(...p95s)),
    row(`${script}, median`, who, median(drags.flat())),
  ];
}

async function choose(
  page: Page,
  files: string | { name: string; mimeType: string; buffer: Buffer },
): Promise<void> {
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open…' }).click();
  await (await chooser).setFiles(files);
}

/** Puts a job on the bench that is of the figure there, with its fifth seam chosen. */
async function chooseJob(page: Page, figure: BenchFigure, job: Job): Promise<void> {
  const own = { ...job, sculpt: { ...job.sculpt, file: basename(figure.path) } };
  await choose(page, {
    name: 'many.pegwright.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(own)),
  });
  const fifth = page.locator('.entry', { hasText: job.seams[4].id });
  await fifth.waitFor();
  await settled(page);
  await fifth.press('Enter');
  await settled(page);
}

async function openingRow(browser: Browser, page: Page, figure: BenchFigure, who: Who): Promise<Row> {
  const events = await traced(browser, page, 'toplevel', async () => {
    await choose(page, figure.path);
    await page.waitForFunction(() =>
      document.querySelector('[data-testid="status"]')?.textContent?.includes('heron-'),
    );
    await settled(page);
  });
  return row('page: longest task, from opening to finished parts', who, Math.max(...taskTimes(events)), {
    atMost: 100,
  });
}

/**
 * What the page's own thread takes for a pass over a mesh as large: how fast the machine is at this hour, for the rows of a
 * hand's moves are held against nothing else.
 */
async function paceRow(page: Page, who: Who): Promise<Row> {
  const times = await page.evaluate(passTimes, who.triangles);
  return row('page: a pass over as many triangles, of the same thread', who, median(times));
}

/** Run in the page: times of some passes that add up the coordinates of so many triangles, ms. */
function passTimes(count: number): number[] {
  const positions = Float32Array.from({ length: (count / 2) * 3 }, (_, i) => Math.sin(i));
  const corners = Uint32Array.from({ length: count * 3 }, (_, i) => (i * 7) % (count / 2));
  return Array.from({ length: 9 }, () => {
    const start = performance.now();
    let sum = 0;
    for (let i = 0; i < corners.length; i++) {
      const at = corners[i] * 3;
      sum += positions[at] + positions[at + 1] + positions[at + 2];
    }
    return performance.now() - start + 0 * sum;
  });
}

/** From the click on Cancel until the page says that it has stopped. */
async function cancelRow(page: Page, figure: BenchFigure, who: Who): Promise<Row> {
  await page.evaluate(clickWhenThere, 'Cancel');
  await choose(page, figure.path);
  await page.getByTestId('message').waitFor();
  const took = await page.evaluate(() => {
    const [clicked] = performance.getEntriesByName('clicked Cancel');
    const [gone] = performance.getEntriesByName('gone Cancel');
    return gone.startTime - clicked.startTime;
  });
  return row('page: cancelling an opening, by the clock', who, took, { atMost: 500 });
}

/** Script per pointer move, ms, of each of several drags, each taken back. */
async function dragTimes(
  browser: Browser,
  page: Page,
  grip: string,
  away: Way,
  runs: number,
): Promise<number[][]> {
  const drags: number[][] = [];
  for (let run = 0; run < runs; run++) drags.push(await oneDrag(browser, page, grip, away));
  return drags;
}

async function oneDrag(browser: Browser, page: Page, grip: string, away: Way): Promise<number[]> {
  const from = await atRest(page, grip);
  const events = await traced(browser, page, 'devtools.timeline', async () => {
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    for (let move = 1; move <= MOVES; move++) {
      const swing = Math.sin((move / MOVES) * 5) * 14;
      await page.mouse.move(from.x + swing * away.x, from.y + swing * away.y);
      await page.waitForTimeout(16);
    }
    await page.mouse.up();
  });
  await settled(page);
  const times = scriptPerMove(events);
  // What was dragged can be taken back; where nothing was, this waits in vain.
  await page.getByRole('button', { name: 'Undo', disabled: false }).click();
  await settled(page);
  if (times.length < MOVES / 2) throw new Error(`only ${times.length} pointer moves are in the trace`);
  return times;
}

/** Where a grip is once the camera has come to rest, CSS px. */
async function atRest(page: Page, grip: string): Promise<{ x: number; y: number }> {
  let at = await middleOf(page, grip);
  for (;;) {
    await page.waitForTimeout(2000);
    const now = await middleOf(page, grip);
    if (now.x === at.x && now.y === at.y) return at;
    at = now;
  }
}
