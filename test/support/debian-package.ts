import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';

/** Contents of Debian packages: for tests alone, kept in a cache, never in the repository. */

export const cache = resolve(import.meta.dirname, '../../node_modules/.cache/pegwright');

/** Runs a program quietly. @throws Error with its last words when it fails. */
export function run(cwd: string, program: string, ...args: string[]): void {
  const { status, stderr, error } = spawnSync(program, args, { cwd, encoding: 'utf8' });
  if (error) throw new Error(`${program} cannot be run (${error.message})`);
  if (status !== 0) throw new Error(`${program} failed: ${stderr.trim().split('\n').at(-1) ?? status}`);
}

/**
 * Fetches packages and lays out all their files in one folder, which `finish` may then change before it is kept.
 * @returns the folder, kept as `name`, or the reason why it cannot be had.
 */
export function obtainPackages(
  name: string,
  packages: readonly string[],
  finish: (folder: string) => void = () => undefined,
): { folder: string } | { missing: string } {
  const folder = join(cache, name);
  try {
    if (!existsSync(folder)) fetchInto(folder, packages, finish);
    return { folder };
  } catch (thrown) {
    return { missing: (thrown as Error).message };
  }
}

function fetchInto(path: string, packages: readonly string[], finish: (folder: string) => void): void {
  mkdirSync(cache, { recursive: true });
  const folder = mkdtempSync(join(cache, 'fetch-'));
  try {
    try {
      run(folder, 'apt-get', 'download', ...packages);
    } catch {
      // A fresh system has no lists yet.
      run(folder, 'apt-get', 'update');
      run(folder, 'apt-get', 'download', ...packages);
    }
    const files = readdirSync(folder).filter((name) => name.endsWith('.deb'));
    if (files.length < packages.length)
      throw new Error(`apt-get did not bring all of ${packages.join(', ')}`);
    for (const file of files) run(folder, 'dpkg', '-x', file, 'unpacked');
    finish(join(folder, 'unpacked'));
    keep(join(folder, 'unpacked'), path);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Another test may have been quicker. */
function keep(folder: string, path: string): void {
  try {
    renameSync(folder, path);
  } catch (thrown) {
    if (!existsSync(path)) throw thrown;
  }
}
