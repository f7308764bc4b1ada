import { defineConfig } from '@playwright/test';
import { findChromium } from './test/support/find-chromium.ts';

const PORT = 4183;

/** The page in a real browser, as it is built for people. */
export default defineConfig({
  testDir: 'e2e',
  outputDir: 'test-results',
  workers: 2,
  fullyParallel: true,
  timeout: 120_000,
  expect: { timeout: 30_000 },
  use: {
    baseURL: `http://localhost:${PORT}`,
    // What is drawn costs most of a test's time here: half as many dots a side, as in a page zoomed out. Those about the
    // layout set sizes of their own.
    viewport: { width: 1024, height: 700 },
    deviceScaleFactor: 0.5,
    launchOptions: {
      executablePath: findChromium() ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox',
        '--use-angle=swiftshader',
        '--enable-unsafe-swiftshader',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        '--no-first-run',
        '--disable-gpu-compositing',
      ],
    },
  },
  webServer: {
    command: `npm run build && npx vite preview --config vite.config.ts --port ${PORT} --strictPort`,
    port: PORT,
    timeout: 120_000,
    reuseExistingServer: false,
  },
});
