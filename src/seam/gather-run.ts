import { blocksOf, boxesOf, evenStarts, keepBlocks } from '../mesh/near/blocks.ts';
import type { Vertices } from '../mesh/part/vertices.ts';

/** A run of triangles of which some are divided. */
export interface SideRun {
  triangles: Uint32Array;
  /** Triangles that go whole to the front, and to the back. */
  frontCount: number;
  backCount: number;
  /** 1 for each triangle that is divided though its corners are on one side; left out where there is none. */
  isDivided?: Uint8Array;
}

/** One side's triangles of a run, and the blocks they came in. */
export interface GatheredRun {
  triangles: Uint32Array;
  starts: Uint32Array;
  /** The box of each block that came over whole. */
  boxes: Float32Array;
  /** Numbers of the other blocks, whose boxes must be made. */
  unboxed: number[];
}

/**
 * One side's triangles of a run: the whole ones in their old order, then those `made` along the seam.
 * `index` has each vertex's number on its side. A block that lies wholly on the side keeps its box.
 */
export function gatherRun(
  vertices: Vertices,
  { triangles: src, frontCount, backCount, isDivided }: SideRun,
  which: 1 | -1,
  side: Int8Array,
  index: Uint32Array,
  made: Uint32Array,
): GatheredRun {
  const whole = (which > 0 ? frontCount : backCount) * 3;
  const triangles = new Uint32Array(whole + made.length);
  const { starts: old, levels } = blocksOf(vertices, src);
  const more = evenStarts(whole, triangles.length);
  const most = old.length + more.length;
  const starts = new Uint32Array(most);
  const boxes = new Float32Array(most * 6);
  const unboxed: number[] = [];
  let count = 0;
  let to = 0;
  for (let block = 0; block + 1 < old.length; block++) {
    const from = to;
    to = copySide(src, old[block], old[block + 1], which * 3, side, isDivided, index, triangles, to);
    if (to === from) continue;
    if (to - from < old[block + 1] - old[block]) unboxed.push(count);
    starts[count] = from;
    copyBox(levels[0], block * 6, boxes, count * 6);
    count++;
  }
  triangles.set(made, to);
  for (let block = 0; block + 1 < more.length; block++) {
    unboxed.push(count);
    starts[count++] = more[block];
  }
  starts[count] = triangles.length;
  return { triangles, starts: starts.slice(0, count + 1), boxes: boxes.slice(0, count * 6), unboxed };
}

function copyBox(src: Float32Array, from: number, dst: Float32Array, to: number): void {
  for (let k = 0; k < 6; k++) dst[to + k] = src[from + k];
}

/** Copies the triangles whose sides sum to `whole`, with their vertices' new numbers; answers where it stopped. */
function copySide(
  src: Uint32Array,
  from: number,
  end: number,
  whole: number,
  side: Int8Array,
  isDivided: Uint8Array | undefined,
  index: Uint32Array,
  dst: Uint32Array,
  at: number,
): number {
  let to = at;
  for (let i = from; i < end; i += 3) {
    const a = src[i];
    const b = src[i + 1];
    const c = src[i + 2];
    if (side[a] + side[b] + side[c] !== whole || isDivided?.[i / 3] === 1) continue;
    dst[to] = index[a];
    dst[to + 1] = index[b];
    dst[to + 2] = index[c];
    to += 3;
  }
  return to;
}

/** Makes the boxes that are missing and keeps the blocks with their triangles. */
export function placeBlocks(vertices: Vertices, { triangles, starts, boxes, unboxed }: GatheredRun): void {
  for (const block of unboxed) {
    boxes.set(boxesOf(vertices, triangles, starts.subarray(block, block + 2)), block * 6);
  }
  keepBlocks(triangles, starts, boxes);
}
