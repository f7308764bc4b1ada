import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { type Browser, chromium, type Page } from '@playwright/test';
import { build, preview } from 'vite';
import { findChromium } from '../test/support/find-chromium.ts';

/** Makes the README's pictures with the app itself, as it is built for people. */

const root = resolve(import.meta.dirname, '..');
const folder = join(root, 'e2e/pictures');
const configFile = join(root, 'vite.config.ts');

async function shown(
  browser: Browser,
  address: string,
  scheme: 'light' | 'dark',
  size: [number, number],
): Promise<Page> {
  const [width, height] = size;
  const context = await browser.newContext({ viewport: { width, height }, colorScheme: scheme });
  const page = await context.newPage();
  await page.goto(address);
  await page.getByTestId('face-outline').waitFor({ timeout: 90_000 });
  await page.getByTestId('busy').waitFor({ state: 'detached' });
  return page;
}

async function keep(page: Page, name: string): Promise<void> {
  // The bench draws after the panels: two rests let a software renderer catch up.
  await page.waitForTimeout(4000);
  await page.screenshot({ path: join(folder, name) });
  await page.context().close();
}

async function pullApart(page: Page): Promise<void> {
  const slider = page.getByRole('slider', { name: 'Pull apart' });
  await slider.focus();
  for (let step = 0; step < 5; step++) await page.keyboard.press('PageUp');
}

/** Draws a line that follows the back of the figure up to its neck, the parts then a little apart. */
async function drawAlongNeck(page: Page): Promise<void> {
  await page.getByRole('tab', { name: 'Seam', exact: true }).click();
  await page.getByRole('button', { name: 'Draw a line over the figure' }).click();
  const bench = await page.getByTestId('bench').boundingBox();
  if (!bench) throw new Error('there is no bench');
  for (const [x, y] of [
    [0.26, 0.43],
    [0.42, 0.45],
    [0.5, 0.37],
    [0.57, 0.4],
    [0.66, 0.36],
  ])
    await page.mouse.click(bench.x + bench.width * x, bench.y + bench.height * y);
  await page.getByRole('button', { name: 'Done' }).click();
  await page.getByTestId('busy').waitFor({ state: 'detached' });
}

mkdirSync(folder, { recursive: true });
await build({ configFile, logLevel: 'warn' });
const server = await preview({ configFile, preview: { port: 4185, strictPort: true } });
const address = server.resolvedUrls?.local[0] ?? 'http://localhost:4185/';
const browser = await chromium.launch({
  executablePath: findChromium() ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'],
});
await keep(await shown(browser, address, 'light', [1440, 900]), 'bench-light.png');
const apart = await shown(browser, address, 'dark', [1440, 900]);
await pullApart(apart);
await keep(apart, 'bench-dark-apart.png');
const small = await shown(browser, address, 'light', [1024, 768]);
await small.getByRole('button', { name: 'Section' }).click();
await keep(small, 'bench-small-section.png');
const swept = await shown(browser, address, 'light', [1440, 900]);
await drawAlongNeck(swept);
await keep(swept, 'bench-light-line.png');
await browser.close();
await server.close();
