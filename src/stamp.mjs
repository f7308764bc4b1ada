import { createHash } from 'node:crypto';
import { readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '..');

/** A name for the state of all files in folders of the project, and of what is installed: of each its path, size and time of change. */
export function stampOf(...folders) {
  const hash = createHash('sha1');
  const add = (path) => {
    const stats = statSync(join(root, path));
    if (stats.isFile()) hash.update(`${path} ${stats.size} ${stats.mtimeMs}\n`);
  };
  for (const folder of folders)
    for (const name of readdirSync(join(root, folder), { recursive: true }).sort()) add(join(folder, name));
  add('package-lock.json');
  return hash.digest('hex').slice(0, 16);
}
