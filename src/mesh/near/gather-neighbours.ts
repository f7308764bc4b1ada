import { measureMesh } from '../measure.ts';
import type { Mesh } from '../mesh.ts';
import { NOTHING_ADDED } from '../part/vertices.ts';
import { blocksOf } from './blocks.ts';

/** A box this many times as wide as its share of the surface means that what it holds are no neighbours. */
const SCATTERED = 5;
/** Boxes of a level that tell. */
const ENOUGH = 64;

/**
 * The same mesh with its triangles in an order that keeps neighbours together, and its vertices in order of
 * first use: everything that looks for what is near a plane or a joint goes by blocks of such an order.
 * Most figures come that way and are answered as they are. Others are sorted along the Z-curve of their
 * middles (Morton, *A computer oriented geodetic data base*, IBM, 1966). Coordinates do not change.
 */
export function gatherNeighbours(mesh: Mesh): Mesh {
  if (!isScattered(mesh)) return mesh;
  const order = alongCurve(mesh);
  const triangles = new Uint32Array(mesh.triangles.length);
  const positions = new Float32Array(mesh.positions.length);
  /** One more than each vertex's new number. */
  const numbers = new Uint32Array(mesh.positions.length / 3);
  let used = 0;
  for (let t = 0; t < order.length; t++) {
    for (let k = 0; k < 3; k++) {
      const v = mesh.triangles[order[t] * 3 + k];
      if (numbers[v] === 0) {
        positions[used * 3] = mesh.positions[v * 3];
        positions[used * 3 + 1] = mesh.positions[v * 3 + 1];
        positions[used * 3 + 2] = mesh.positions[v * 3 + 2];
        numbers[v] = ++used;
      }
      triangles[t * 3 + k] = numbers[v] - 1;
    }
  }
  return { positions: positions.subarray(0, used * 3), triangles };
}

/**
 * True where the boxes of some level are much wider than a box's share of the surface would be, gathered in one place:
 * a figure may have been divided triangle by triangle, so that those of a block are neighbours and the blocks are not.
 */
function isScattered(mesh: Mesh): boolean {
  const { areaMm2 } = measureMesh(mesh);
  const { levels } = blocksOf({ positions: mesh.positions, added: NOTHING_ADDED }, mesh.triangles);
  return levels.some((boxes) => {
    const count = boxes.length / 6;
    return count >= ENOUGH && meanWidth(boxes) > SCATTERED * Math.sqrt(areaMm2 / count);
  });
}

function meanWidth(boxes: Float32Array): number {
  let width = 0;
  for (let at = 0; at < boxes.length; at += 6) {
    width += Math.hypot(
      boxes[at + 3] - boxes[at],
      boxes[at + 4] - boxes[at + 1],
      boxes[at + 5] - boxes[at + 2],
    );
  }
  return (width * 6) / boxes.length;
}

/** Triangle numbers by the interleaved bits of their middles' cells, ten bits an axis. */
function alongCurve({ positions: p, triangles: t }: Mesh): Uint32Array {
  const low = [Infinity, Infinity, Infinity];
  let extent = 0;
  for (let k = 0; k < 3; k++) {
    let high = -Infinity;
    for (let i = k; i < p.length; i += 3) {
      if (p[i] < low[k]) low[k] = p[i];
      if (p[i] > high) high = p[i];
    }
    extent = Math.max(extent, high - low[k]);
  }
  const cells = 1023 / (3 * (extent || 1));
  const codes = new Uint32Array(t.length / 3);
  for (let i = 0; i < t.length; i += 3) {
    let code = 0;
    for (let k = 0; k < 3; k++) {
      const sum = p[t[i] * 3 + k] + p[t[i + 1] * 3 + k] + p[t[i + 2] * 3 + k] - 3 * low[k];
      code |= spread(Math.floor(sum * cells)) << k;
    }
    codes[i / 3] = code;
  }
  return sortedBy(codes);
}

/** Ten bits with two zeros after each. */
function spread(bits: number): number {
  let b = bits & 0x3ff;
  b = (b | (b << 16)) & 0x030000ff;
  b = (b | (b << 8)) & 0x0300f00f;
  b = (b | (b << 4)) & 0x030c30c3;
  return (b | (b << 2)) & 0x09249249;
}

/** Numbers 0, 1, 2, … by rising code; equal codes keep their order. Three passes of ten bits. */
function sortedBy(codes: Uint32Array): Uint32Array {
  const first = new Uint32Array(codes.length);
  for (let i = 0; i < first.length; i++) first[i] = i;
  const second = new Uint32Array(codes.length);
  sortPass(codes, 0, first, second);
  sortPass(codes, 10, second, first);
  sortPass(codes, 20, first, second);
  return second;
}

/** Puts numbers in order of ten bits of their codes. A function of its own, so that it runs compiled from the second pass on. */
function sortPass(codes: Uint32Array, shift: number, from: Uint32Array, to: Uint32Array): void {
  const starts = new Uint32Array(1025);
  for (let i = 0; i < codes.length; i++) starts[((codes[i] >>> shift) & 1023) + 1]++;
  for (let d = 1; d <= 1024; d++) starts[d] += starts[d - 1];
  for (let i = 0; i < from.length; i++) {
    const number = from[i];
    to[starts[(codes[number] >>> shift) & 1023]++] = number;
  }
}
