import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { obtainPackages, run } from './debian-package.ts';
import type { Soup } from './stl-bytes.ts';

/** A scanned figure from the mesh data of a Debian package: for tests alone, never in the repository. */

const PACKAGE = 'libcgal-demo';
const ARCHIVE = 'usr/share/doc/libcgal-dev/data.tar.gz';
const MEMBER = 'data/meshes/armadillo.off';

/** The figure's OFF text, or the reason why it cannot be had. */
export function obtainArmadillo(): { off: string } | { missing: string } {
  const obtained = obtainPackages('armadillo', [PACKAGE], (folder) => {
    run(folder, 'tar', '-xzf', ARCHIVE, MEMBER);
    rmSync(join(folder, 'usr'), { recursive: true });
  });
  return 'missing' in obtained ? obtained : { off: readFileSync(join(obtained.folder, MEMBER), 'utf8') };
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
