import { sub, type Vec3 } from '../../math/vec3.ts';
import { boundsOf, measureMesh } from '../measure.ts';
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
  inSlices(order.length, (from, to) => {
    used = putInOrder(mesh.triangles, order, from, to, numbers, used, triangles);
  });
  inSlices(numbers.length, (from, to) => moveVertices(mesh.positions, numbers, from, to, positions));
  return { positions: positions.subarray(0, used * 3), triangles };
}

/** Triangles handled in one go. */
const SLICE = 1 << 14;

/** Runs a loop slice by slice: it is compiled after the first ones, instead of running to its end as it began. */
function inSlices(end: number, loop: (from: number, to: number) => void): void {
  for (let from = 0; from < end; from += SLICE) loop(from, Math.min(end, from + SLICE));
}

/** Takes triangles over in order, numbering vertices as they come. @returns how many vertices there are by then. */
function putInOrder(
  src: Uint32Array,
  order: Uint32Array,
  from: number,
  to: number,
  numbers: Uint32Array,
  known: number,
  dst: Uint32Array,
): number {
  let used = known;
  for (let t = from; t < to; t++) {
    const at = order[t] * 3;
    for (let k = 0; k < 3; k++) {
      const v = src[at + k];
      if (numbers[v] === 0) numbers[v] = ++used;
      dst[t * 3 + k] = numbers[v] - 1;
    }
  }
  return used;
}

/** Puts the vertices that have a new number in their new places. */
function moveVertices(
  src: Float32Array,
  numbers: Uint32Array,
  from: number,
  to: number,
  dst: Float32Array,
): void {
  for (let v = from; v < to; v++) {
    const at = numbers[v] * 3 - 3;
    if (at < 0) continue;
    dst[at] = src[v * 3];
    dst[at + 1] = src[v * 3 + 1];
    dst[at + 2] = src[v * 3 + 2];
  }
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
function alongCurve(mesh: Mesh): Uint32Array {
  const { min, max } = boundsOf(mesh);
  const extent = Math.max(...sub(max, min));
  const cells = 1023 / (3 * (extent || 1));
  const codes = new Uint32Array(mesh.triangles.length / 3);
  inSlices(codes.length, (from, to) =>
    fillCodes(mesh.positions, mesh.triangles, from, to, min, cells, codes),
  );
  return sortedBy(codes);
}

function fillCodes(
  p: Float32Array,
  t: Uint32Array,
  from: number,
  to: number,
  low: Vec3,
  cells: number,
  codes: Uint32Array,
): void {
  const x = 3 * low[0];
  const y = 3 * low[1];
  const z = 3 * low[2];
  for (let i = from; i < to; i++) {
    const a = t[i * 3] * 3;
    const b = t[i * 3 + 1] * 3;
    const c = t[i * 3 + 2] * 3;
    codes[i] =
      spread(Math.floor((p[a] + p[b] + p[c] - x) * cells)) |
      (spread(Math.floor((p[a + 1] + p[b + 1] + p[c + 1] - y) * cells)) << 1) |
      (spread(Math.floor((p[a + 2] + p[b + 2] + p[c + 2] - z) * cells)) << 2);
  }
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
  const second = new Uint32Array(codes.length);
  for (let i = 0; i < first.length; i++) first[i] = i;
  sortPass(codes, 0, first, second);
  sortPass(codes, 10, second, first);
  sortPass(codes, 20, first, second);
  return second;
}

/** Puts numbers in order of ten bits of their codes. */
function sortPass(codes: Uint32Array, shift: number, src: Uint32Array, dst: Uint32Array): void {
  const starts = new Uint32Array(1025);
  inSlices(codes.length, (from, to) => countDigits(codes, shift, from, to, starts));
  for (let d = 1; d <= 1024; d++) starts[d] += starts[d - 1];
  inSlices(src.length, (from, to) => placeByDigit(codes, shift, src, from, to, starts, dst));
}

function countDigits(codes: Uint32Array, shift: number, from: number, to: number, starts: Uint32Array): void {
  for (let i = from; i < to; i++) starts[((codes[i] >>> shift) & 1023) + 1]++;
}

function placeByDigit(
  codes: Uint32Array,
  shift: number,
  src: Uint32Array,
  from: number,
  to: number,
  starts: Uint32Array,
  dst: Uint32Array,
): void {
  for (let i = from; i < to; i++) {
    const number = src[i];
    dst[starts[(codes[number] >>> shift) & 1023]++] = number;
  }
}
