import type { Bounds } from '../measure.ts';
import type { Vertices } from '../part/vertices.ts';

/** Triangles a new block holds. Neighbours stand together in a figure's order, so a block's box is small. */
const BLOCK = 32;
/** Boxes that one of the next level holds. */
export const FAN = 8;

/**
 * Runs of triangles with their boxes, and boxes over those: finds the triangles near a plane or a body
 * without a look at the rest. Built in one pass; a full hierarchy over triangles takes four times as
 * long to build and answers no faster where the figure's own order is good.
 */
export interface BlockTree {
  /** Each block's first corner in the triangles, and their end. */
  starts: Uint32Array;
  /** Boxes (min x, y, z, max x, y, z; mm) of the blocks, then of every eight of the level before, up to one. */
  levels: readonly Float32Array[];
}

const known = new WeakMap<Uint32Array, BlockTree>();

/** The blocks of a run of triangles. Kept as long as the triangles are. */
export function blocksOf(vertices: Vertices, triangles: Uint32Array): BlockTree {
  let tree = known.get(triangles);
  if (!tree) {
    const starts = evenStarts(0, triangles.length);
    tree = treeOver(starts, boxesOf(vertices, triangles, starts));
    known.set(triangles, tree);
  }
  return tree;
}

/** Smaller blocks, of up to `most` triangles each of which shares a corner with the one before: made for whoever asks. */
export function fineBlocks(vertices: Vertices, triangles: Uint32Array, most: number): BlockTree {
  const starts = new Uint32Array(triangles.length / 3 + 1);
  let count = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const goesOn = count > 0 && i - starts[count - 1] < most * 3 && doShare(triangles, i - 3, i);
    if (!goesOn) starts[count++] = i;
  }
  starts[count] = triangles.length;
  const own = starts.slice(0, count + 1);
  return treeOver(own, boxesOf(vertices, triangles, own));
}

function doShare(t: Uint32Array, i: number, j: number): boolean {
  const [a, b, c] = [t[j], t[j + 1], t[j + 2]];
  for (let k = i; k < i + 3; k++) if (t[k] === a || t[k] === b || t[k] === c) return true;
  return false;
}

/** Gives triangles that were taken over block by block their blocks, so that the boxes need not be made again. */
export function keepBlocks(triangles: Uint32Array, starts: Uint32Array, boxes: Float32Array): void {
  known.set(triangles, treeOver(starts, boxes));
}

/** Starts of blocks of even size from one corner to another, the end last. */
export function evenStarts(from: number, to: number): Uint32Array {
  const count = Math.ceil((to - from) / (BLOCK * 3));
  const starts = new Uint32Array(count + 1);
  for (let block = 0; block < count; block++) starts[block] = from + block * BLOCK * 3;
  starts[count] = to;
  return starts;
}

/** The box of each block. */
export function boxesOf(vertices: Vertices, triangles: Uint32Array, starts: Uint32Array): Float32Array {
  const boxes = new Float32Array((starts.length - 1) * 6);
  for (let block = 0; block + 1 < starts.length; block++) {
    fillBox(vertices, triangles, starts[block], starts[block + 1], boxes, block * 6);
  }
  return boxes;
}

/** The box of one block: a function by itself, so that it soon runs compiled. */
function fillBox(
  { positions: own, added }: Vertices,
  triangles: Uint32Array,
  from: number,
  to: number,
  boxes: Float32Array,
  box: number,
): void {
  let x0 = Infinity;
  let y0 = Infinity;
  let z0 = Infinity;
  let x1 = -Infinity;
  let y1 = -Infinity;
  let z1 = -Infinity;
  for (let i = from; i < to; i++) {
    const at = triangles[i] * 3;
    const isOwn = at < own.length;
    const places = isOwn ? own : added;
    const a = isOwn ? at : at - own.length;
    const x = places[a];
    const y = places[a + 1];
    const z = places[a + 2];
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
    if (z < z0) z0 = z;
    if (z > z1) z1 = z;
  }
  boxes[box] = x0;
  boxes[box + 1] = y0;
  boxes[box + 2] = z0;
  boxes[box + 3] = x1;
  boxes[box + 4] = y1;
  boxes[box + 5] = z1;
}

function treeOver(starts: Uint32Array, boxes: Float32Array): BlockTree {
  const levels = [boxes];
  while (levels[levels.length - 1].length > 6) levels.push(boxesOver(levels[levels.length - 1]));
  return { starts, levels };
}

function boxesOver(boxes: Float32Array): Float32Array {
  const over = new Float32Array(Math.ceil(boxes.length / (6 * FAN)) * 6);
  for (let at = 0; at < over.length; at += 6) {
    over.set(boxes.subarray(at * FAN, at * FAN + 6), at);
    const end = Math.min(boxes.length, (at + 6) * FAN);
    for (let i = at * FAN + 6; i < end; i += 6) {
      for (let k = 0; k < 3; k++) {
        over[at + k] = Math.min(over[at + k], boxes[i + k]);
        over[at + 3 + k] = Math.max(over[at + 3 + k], boxes[i + 3 + k]);
      }
    }
  }
  return over;
}

/** The box over all blocks, mm; an empty one at zero where there are none. */
export function boundsOfBlocks({ levels }: BlockTree): Bounds {
  const top = levels[levels.length - 1];
  if (top.length === 0) return { min: [0, 0, 0], max: [0, 0, 0] };
  return { min: [top[0], top[1], top[2]], max: [top[3], top[4], top[5]] };
}

/** Numbers of the blocks whose box `meets` accepts, in order; boxes over boxes are asked first. */
export function blocksWhere(
  { levels }: BlockTree,
  meets: (boxes: Float32Array, at: number) => boolean,
): number[] {
  let chosen = [0];
  for (let level = levels.length - 1; level >= 0; level--) {
    const boxes = levels[level];
    const met: number[] = [];
    for (let i = 0; i < chosen.length; i++) if (meets(boxes, chosen[i] * 6)) met.push(chosen[i]);
    chosen = level === 0 ? met : childrenOf(met, levels[level - 1].length / 6);
  }
  return levels[0].length > 0 ? chosen : [];
}

function childrenOf(boxes: readonly number[], count: number): number[] {
  const below: number[] = [];
  for (let i = 0; i < boxes.length; i++) {
    const end = Math.min(count, (boxes[i] + 1) * FAN);
    for (let box = boxes[i] * FAN; box < end; box++) below.push(box);
  }
  return below;
}

/** The boxes of the level below that a box holds: there are `count` of them in all. */
export const children = (box: number, count: number): number[] => childrenOf([box], count);

/** The first of the boxes of the level below that a box holds; they end where the next box's begin, or their level does. */
export const firstChild = (box: number): number => box * FAN;
