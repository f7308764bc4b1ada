import { spawnSync } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

/** Where a Chromium usually is, and what it may be called on the path. */
const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser'];
const NAMES = ['google-chrome', 'google-chrome-stable', 'chromium'];

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Path of a Chromium on this machine: the one `CHROMIUM_PATH` names, else one at the usual places. */
export function findChromium(): string | undefined {
  const named = process.env.CHROMIUM_PATH;
  if (named) return isExecutable(named) ? named : undefined;
  const onPath = (process.env.PATH ?? '')
    .split(delimiter)
    .filter(Boolean)
    .flatMap((folder) => NAMES.map((name) => join(folder, name)));
  return [...PLACES, ...onPath].find(isExecutable);
}

/** Installs Chromium from the system's packages, where this may be done. @returns its path, if there is one then. */
export function installChromium(): string | undefined {
  if (process.platform !== 'linux' || process.getuid?.() !== 0) return undefined;
  const run = (...args: string[]) =>
    spawnSync('apt-get', args, {
      stdio: ['ignore', 'inherit', 'inherit'],
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    }).status === 0;
  if (run('update')) run('install', '-y', '--no-install-recommends', 'chromium');
  return findChromium();
}
