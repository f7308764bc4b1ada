import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { build, preview } from 'vite';
import { stampOf } from '../src/stamp.mjs';

/**
 * Opens the workbench as it is built for people, built anew where a source is not as it was then: `npm start`. With
 * `--build-only` it ends there.
 */

const configFile = resolve(import.meta.dirname, '../vite.config.ts');
const page = resolve(import.meta.dirname, '../dist/page');
const stampFile = join(page, 'stamp.txt');
const stamp = stampOf('app', 'src', 'public');

if (!existsSync(stampFile) || readFileSync(stampFile, 'utf8') !== stamp) {
  await build({ configFile, logLevel: 'warn' });
  writeFileSync(stampFile, stamp);
}
if (!process.argv.includes('--build-only')) {
  const server = await preview({ configFile, preview: { port: 5173 } });
  server.printUrls();
  server.bindCLIShortcuts({ print: false });
}
