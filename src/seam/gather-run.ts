import { blocksOf, boxesOf, evenStarts, keepBlocks } from '../mesh/near/blocks.ts';
import type { Vertices } from '../mesh/part/vertices.ts';
import type { TracedRun } from '../mesh/plane/trace.ts';

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
 * One side's triangles of a traced run: the whole ones in their old order, then those `made` along the plane.
 * `index` has each vertex's number on its side. A block that lies wholly on the side keeps its box.
 */
export function gatherRun(
  vertices: Vertices,
  { triangles: src, frontCount, backCount }: TracedRun,
  which: 1 | -1,
  side: Int8Array,
  index: Uint32Array,
  made: Uint32Array,
): GatheredRun {
  const whole = (which > 0 ? frontCount : backCount) * 3;
  const triangles = new Uint32Array(whole + made.length);
  const { starts: old, levels } = blocksOf(vertices, src);
  const starts: number[] = [];
  const boxes: number[] = [];
  const unboxed: number[] = [];
  let to = 0;
  for (let block = 0; block + 1 < old.length; block++) {
    const from = to;
    to = copySide(src, old[block], old[block + 1], which * 3, side, index, triangles, to);
    if (to === from) continue;
    if (to - from < old[block + 1] - old[block]) unboxed.push(starts.length);
    starts.push(from);
    for (let k = 0; k < 6; k++) boxes.push(levels[0][block * 6 + k]);
  }
  triangles.set(made, to);
  const more = evenStarts(whole, triangles.length);
  for (let block = 0; block + 1 < more.length; block++) {
    unboxed.push(starts.length);
    starts.push(more[block]);
    boxes.push(0, 0, 0, 0, 0, 0);
  }
  starts.push(triangles.length);
  return { triangles, starts: Uint32Array.from(starts), boxes: Float32Array.from(boxes), unboxed };
}

/** Copies the triangles whose sides sum to `whole`, with their vertices' new numbers; answers where it stopped. */
function copySide(
  src: Uint32Array,
  from: number,
  end: number,
  whole: number,
  side: Int8Array,
  index: Uint32Array,
  dst: Uint32Array,
  at: number,
): number {
  let to = at;
  for (let i = from; i < end; i += 3) {
    const a = src[i];
    const b = src[i + 1];
    const c = src[i + 2];
    if (side[a] + side[b] + side[c] !== whole) continue;
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
