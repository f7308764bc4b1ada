import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { obtainPackages, run } from './debian-package.ts';

/** Writes 3MF with the format's reference library, or tells why it cannot. */
export type Writer = (job: Job) => Uint8Array;

/** Three rows of four numbers each, left of a column vector. */
export type Matrix = readonly (readonly number[])[];

export interface Job {
  /** Number in the library's list: micron, millimetre, centimetre, inch, foot, metre. */
  unit: number;
  mesh: Mesh;
  /** Of the mesh's own build item; of a component made of it; of the item of that component's object. */
  transforms: readonly [own: Matrix, component: Matrix, whole: Matrix];
}

const LIBRARIES = 'usr/lib/x86_64-linux-gnu';

export function obtainWriter(): { write: Writer } | { missing: string } {
  const obtained = obtainPackages('lib3mf', ['lib3mf-dev', 'lib3mf1', 'libzip4']);
  if ('missing' in obtained) return obtained;
  const { folder } = obtained;
  const program = join(folder, 'write-3mf');
  try {
    if (!existsSync(program)) compile(folder, program);
  } catch (thrown) {
    return { missing: (thrown as Error).message };
  }
  return { write: (job) => write(folder, program, job) };
}

function compile(folder: string, program: string): void {
  const source = resolve(import.meta.dirname, 'write-3mf.cpp');
  const include = ['-I', join(folder, 'usr/include'), '-I', join(folder, 'usr/include/lib3mf')];
  const link = ['-L', join(folder, LIBRARIES), '-l3MF', '-Wl,--allow-shlib-undefined'];
  run(folder, 'g++', '-std=c++17', '-w', ...include, source, '-o', program, ...link);
}

function write(folder: string, program: string, { unit, mesh, transforms }: Job): Uint8Array {
  const { positions, triangles } = mesh;
  const numbers = [unit, positions.length / 3, triangles.length / 3, ...positions, ...triangles];
  const out = mkdtempSync(join(tmpdir(), 'pegwright-3mf-'));
  try {
    const path = join(out, 'written.3mf');
    const { status, stderr } = spawnSync(program, [path], {
      input: [...numbers, ...transforms.flat(2)].join(' '),
      env: { ...process.env, LD_LIBRARY_PATH: join(folder, LIBRARIES) },
      encoding: 'utf8',
    });
    if (status !== 0) throw new Error(`the reference library failed: ${stderr}`);
    return new Uint8Array(readFileSync(path));
  } finally {
    rmSync(out, { recursive: true, force: true });
  }
}
