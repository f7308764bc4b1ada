import type { Mesh } from '../mesh.ts';
import { CornerNumbers } from './corner-numbers.ts';

export interface Weld {
  mesh: Mesh;
  /** Used vertices that were found equal to an earlier one. */
  mergedCount: number;
}

/** A closed mesh written as loose triangles has each vertex six times; a little room is left for others. */
const LOOSE_SHARE = 5.5;

/** Room for the places of so many loose triangles. */
export const roomForLoose = (triangles: number): number => (triangles * 3) / LOOSE_SHARE;

/**
 * Joins vertices with equal coordinates (bit for bit, but −0 equals 0) and drops those no triangle uses.
 * Vertices come out in the order in which triangles first use them; triangles keep their order and winding.
 */
export function weld(mesh: Mesh): Weld {
  const src = new Int32Array(mesh.positions.buffer, mesh.positions.byteOffset, mesh.positions.length);
  return isLoose(mesh) ? weldLoose(src) : weldIndexed(src, mesh.triangles);
}

/** True where every triangle has three vertices of its own, in order. */
function isLoose({ positions, triangles }: Mesh): boolean {
  if (triangles.length * 3 !== positions.length) return false;
  for (let i = 0; i < triangles.length; i++) if (triangles[i] !== i) return false;
  return true;
}

function weldLoose(src: Int32Array): Weld {
  const triangles = new Uint32Array(src.length / 3);
  const numbers = new CornerNumbers(roomForLoose(triangles.length / 3));
  numbers.number(src, triangles.length, triangles, 0);
  return {
    mesh: { positions: numbers.positions(), triangles },
    mergedCount: triangles.length - numbers.count,
  };
}

/** Corners taken in one go. */
const SLICE = 1 << 14;

/** Each vertex is looked up once, however many triangles share it. */
function weldIndexed(src: Int32Array, triangles: Uint32Array): Weld {
  const numbers = new CornerNumbers(src.length / 3);
  const welded = new Uint32Array(triangles.length);
  /** One more than each vertex's new number. */
  const known = new Uint32Array(src.length / 3);
  const met = new Uint32Array(SLICE);
  const bits = new Int32Array(SLICE * 3);
  const ids = new Uint32Array(SLICE);
  let asked = 0;
  for (let from = 0; from < triangles.length; from += SLICE) {
    const to = Math.min(triangles.length, from + SLICE);
    const count = meet(src, triangles, from, to, known, met, bits);
    numbers.number(bits, count, ids, 0);
    renumber(triangles, from, to, known, met, ids, count, welded);
    asked += count;
  }
  return {
    mesh: { positions: numbers.positions(), triangles: welded },
    mergedCount: asked - numbers.count,
  };
}

/** Notes the vertices that corners use for the first time, with their coordinates. @returns how many. */
function meet(
  src: Int32Array,
  triangles: Uint32Array,
  from: number,
  to: number,
  known: Uint32Array,
  met: Uint32Array,
  bits: Int32Array,
): number {
  let count = 0;
  for (let i = from; i < to; i++) {
    const v = triangles[i];
    if (known[v] !== 0) continue;
    known[v] = 1;
    met[count] = v;
    bits[count * 3] = src[v * 3];
    bits[count * 3 + 1] = src[v * 3 + 1];
    bits[count * 3 + 2] = src[v * 3 + 2];
    count++;
  }
  return count;
}

function renumber(
  triangles: Uint32Array,
  from: number,
  to: number,
  known: Uint32Array,
  met: Uint32Array,
  ids: Uint32Array,
  count: number,
  welded: Uint32Array,
): void {
  for (let k = 0; k < count; k++) known[met[k]] = ids[k] + 1;
  for (let i = from; i < to; i++) welded[i] = known[triangles[i]] - 1;
}
