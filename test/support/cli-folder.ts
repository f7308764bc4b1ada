import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { binaryStl, triangleCorners } from './mesh-files.ts';
import { box, type Polyhedron } from './simple-solids.ts';

/** A folder of its own for files that the command line works on. */
export interface CliFolder {
  path: string;
  /** Writes a file and answers its path. */
  put(name: string, content: string | Uint8Array): string;
  /** Names in a folder within, none where there is no such folder. */
  list(name: string): string[];
  remove(): void;
}

/** The name has blanks and letters beyond ASCII, so that every run shows that those do no harm. */
export function makeCliFolder(): CliFolder {
  const path = mkdtempSync(join(tmpdir(), 'pegwright bench für '));
  return {
    path,
    put(name, content) {
      writeFileSync(join(path, name), content);
      return join(path, name);
    },
    list(name) {
      try {
        return readdirSync(join(path, name)).sort();
      } catch {
        return [];
      }
    },
    remove: () => rmSync(path, { recursive: true, force: true }),
  };
}

export const stlOf = (solid: Polyhedron): Uint8Array => binaryStl(triangleCorners(solid));

/** A block of 20 × 16 × 30 mm on the bed. */
export const block = (): Uint8Array => stlOf(box([0, 0, 0], [20, 16, 30]));

/** The block without its last two triangles: one side is open. */
export const openBlock = (): Uint8Array =>
  binaryStl(triangleCorners(box([0, 0, 0], [20, 16, 30])).slice(0, -2));

/** A job as it is written by hand; `changes` replace whole fields. */
export const jobText = (changes: Record<string, unknown> = {}): string =>
  JSON.stringify({
    format: 'pegwright-job',
    version: 1,
    sculpt: { file: 'block.stl' },
    process: { name: 'resin', sideGapMm: 0.12, endGapMm: 0.4, minWallMm: 1.2, bedMm: [140, 85, 170] },
    seams: [seam()],
    ...changes,
  });

export const seam = (changes: Record<string, unknown> = {}) => ({
  id: 'middle',
  of: 'sculpt',
  plane: { normal: [0, 0, 1], offsetMm: 14 },
  pegOn: 'back',
  names: { front: 'top', back: 'foot' },
  pegs: [{ kind: 'taper', at: 'auto' }],
  ...changes,
});
