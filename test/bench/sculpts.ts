import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { buildHeron } from '../../src/demo/heron.ts';
import { writeStlBinary } from '../../src/io/stl-write.ts';

const cache = resolve(import.meta.dirname, '../../node_modules/.cache/pegwright');

/** Path of the demo figure at about that many triangles, as a binary STL; made on first use. */
export function heronStl(triangles: number): string {
  const path = join(cache, `heron-${triangles}.stl`);
  if (!existsSync(path)) {
    mkdirSync(cache, { recursive: true });
    writeFileSync(path, writeStlBinary(buildHeron({ triangles }), [0, 0, 0]));
  }
  return path;
}

export const bytesOf = (path: string): Uint8Array => new Uint8Array(readFileSync(path));
