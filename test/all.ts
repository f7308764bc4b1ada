import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { findChromium, installChromium } from './support/find-chromium.ts';
import {
  browserTotals,
  isGreen,
  sumTotals,
  totalsLine,
  totalsOf,
  unitTotals,
} from './support/test-totals.ts';

/** Runs every test there is, those without a browser first, and ends with one line that counts both. */

const root = resolve(import.meta.dirname, '..');
const reports = mkdtempSync(join(tmpdir(), 'pegwright-tests-'));

/** Runs one of the project's own programs, its output passed through. @returns its exit code. */
function run(program: string, args: string[], env: Record<string, string> = {}): Promise<number> {
  return new Promise((done) => {
    const child = spawn(join(root, 'node_modules/.bin', program), args, {
      cwd: root,
      stdio: ['ignore', 'inherit', 'inherit'],
      env: { ...process.env, ...env },
    });
    child.on('error', () => done(1));
    child.on('close', (code) => done(code ?? 1));
  });
}

async function runUnit() {
  const report = join(reports, 'unit.json');
  const args = ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  return totalsOf(report, await run('vitest', args), unitTotals);
}

async function runBrowser(chromium: string) {
  const report = join(reports, 'browser.json');
  const exitCode = await run('playwright', ['test', '--reporter=list,json'], {
    CHROMIUM_PATH: chromium,
    PLAYWRIGHT_JSON_OUTPUT_FILE: report,
  });
  return totalsOf(report, exitCode, browserTotals);
}

function chromiumOrInstalled(): string | undefined {
  const found = findChromium();
  if (found || process.env.CHROMIUM_PATH) return found;
  console.log(
    'No Chromium here: installing the package “chromium” with apt-get, as the browser tests need it.',
  );
  return installChromium();
}

const chromium = chromiumOrInstalled();
if (!chromium) {
  console.error('The browser tests need a Chromium: install one, or set CHROMIUM_PATH to a working one.');
  process.exitCode = 1;
} else {
  const totals = sumTotals([await runUnit(), await runBrowser(chromium)]);
  console.log(totalsLine(totals));
  process.exitCode = isGreen(totals) ? 0 : 1;
}
rmSync(reports, { recursive: true, force: true });
