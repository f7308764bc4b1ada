import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Soup } from './stl-bytes.ts';

/** A scanned figure from the mesh data of a Debian package: for tests alone, kept in a cache, never in the repository. */

const cache = resolve(import.meta.dirname, '../../node_modules/.cache/pegwright');
const PACKAGE = 'libcgal-demo';
const ARCHIVE = 'usr/share/doc/libcgal-dev/data.tar.gz';
const MEMBER = 'data/meshes/armadillo.off';

/** Runs a program quietly. @throws Error with its last words when it fails. */
function run(cwd: string, program: string, ...args: string[]): void {
  const { status, stderr, error } = spawnSync(program, args, { cwd, encoding: 'utf8' });
  if (error) throw new Error(`${program} cannot be run (${error.message})`);
  if (status !== 0) throw new Error(`${program} failed: ${stderr.trim().split('\n').at(-1) ?? status}`);
}

function fetchInto(path: string): void {
  mkdirSync(cache, { recursive: true });
  const folder = mkdtempSync(join(cache, 'fetch-'));
  try {
    try {
      run(folder, 'apt-get', 'download', PACKAGE);
    } catch {
      // A fresh system has no lists yet.
      run(folder, 'apt-get', 'update');
      run(folder, 'apt-get', 'download', PACKAGE);
    }
    const file = readdirSync(folder).find((name) => name.endsWith('.deb'));
    if (!file) throw new Error(`apt-get brought no ${PACKAGE}`);
    run(folder, 'dpkg', '-x', file, 'unpacked');
    run(folder, 'tar', '-xzf', join('unpacked', ARCHIVE), MEMBER);
    renameSync(join(folder, MEMBER), path);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The figure's OFF text, or the reason why it cannot be had. */
export function obtainArmadillo(): { off: string } | { missing: string } {
  const path = join(cache, 'armadillo.off');
  try {
    if (!existsSync(path)) fetchInto(path);
    return { off: readFileSync(path, 'utf8') };
  } catch (thrown) {
    return { missing: (thrown as Error).message };
  }
}

/** Triangles of an OFF text that has nothing but triangles, its largest extent made `size` mm. */
export function offSoup(off: string, size: number): Soup {
  const numbers = off.replace(/#.*/g, '').trim().split(/\s+/).slice(1).map(Number);
  const [vertexCount, faceCount] = numbers;
  const vertices = numbers.slice(3, 3 + vertexCount * 3);
  const extent = [0, 1, 2].map((k) => {
    let [low, high] = [Infinity, -Infinity];
    for (let i = k; i < vertices.length; i += 3) {
      low = Math.min(low, vertices[i]);
      high = Math.max(high, vertices[i]);
    }
    return high - low;
  });
  const factor = size / Math.max(...extent);
  const soup = new Float32Array(faceCount * 9);
  for (let t = 0, at = 3 + vertexCount * 3; t < faceCount; t++, at += 4) {
    if (numbers[at] !== 3) throw new Error(`face ${t} has ${numbers[at]} corners`);
    for (let k = 0; k < 9; k++) {
      soup[t * 9 + k] = vertices[numbers[at + 1 + Math.floor(k / 3)] * 3 + (k % 3)] * factor;
    }
  }
  return soup;
}
