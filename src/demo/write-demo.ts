import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { gzipSync } from 'node:zlib';
import { writeStlBinary } from '../io/stl/write.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { DEMO_TRIANGLES, makeDemoFigure } from './demo-figure.ts';
import { writePly } from './write-ply.ts';

/**
 * Writes the demo figure: `npx tsx src/demo/write-demo.ts --out FILE [--triangles N] [--seed S]`.
 * FILE ends in .stl, .ply or .ply.gz.
 */
const USAGE =
  'usage: write-demo.ts --out FILE.(stl|ply|ply.gz) [--triangles 20000…8000000] [--seed WHOLE_NUMBER]';

interface Arguments {
  out: string;
  triangles: number;
  seed?: number;
}

function main(): number {
  const wanted = readArguments();
  if (!wanted) {
    console.error(USAGE);
    return 2;
  }
  const mesh = makeDemoFigure(wanted.triangles, wanted.seed);
  const bytes = encode(wanted.out, mesh);
  writeFileSync(wanted.out, bytes);
  console.error(`${wanted.out}: ${mesh.triangles.length / 3} triangles, ${bytes.byteLength} bytes`);
  return 0;
}

/** What the command line asks for, or null where it makes no sense. */
function readArguments(): Arguments | null {
  const { values } = parseArgs({
    options: { out: { type: 'string' }, triangles: { type: 'string' }, seed: { type: 'string' } },
    strict: false,
  });
  const { out, triangles = String(DEMO_TRIANGLES), seed, ...unknown } = values;
  if (typeof out !== 'string' || !/\.(stl|ply|ply\.gz)$/.test(out) || Object.keys(unknown).length > 0)
    return null;
  if (!(Number(triangles) >= 20_000 && Number(triangles) <= 8_000_000)) return null;
  if (seed !== undefined && !Number.isInteger(Number(seed))) return null;
  return { out, triangles: Number(triangles), ...(seed === undefined ? {} : { seed: Number(seed) }) };
}

function encode(out: string, mesh: Mesh): Uint8Array {
  if (out.endsWith('.stl')) return writeStlBinary(mesh, [0, 0, 0]);
  const ply = writePly(mesh);
  return out.endsWith('.gz') ? gzipSync(ply, { level: 9 }) : ply;
}

process.exitCode = main();
