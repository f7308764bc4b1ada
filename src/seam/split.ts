import type { Plane } from '../math/plane.ts';
import type { Ring } from '../mesh/outline.ts';
import type { Part, Patch } from '../mesh/part.ts';
import { flatFacesFront, type Trace } from '../mesh/trace.ts';

/** One side of a split part: its patches without a face yet, and the rings its face must fill. */
export interface OpenSide {
  positions: Float32Array;
  patches: Patch[];
  /** The outline rings in this side's own vertex ids, counter-clockwise seen from the front. */
  rings: Ring[];
}

/**
 * Splits a part's triangles along a traced plane in one pass over typed arrays.
 * Triangles wholly on one side keep their corners' coordinates bit for bit; crossed
 * ones are divided at the shared cut vertices; triangles in the plane go to the side
 * whose material they bound. Sides share no memory with the part.
 */
export function splitPart(
  part: Part,
  plane: Plane,
  trace: Trace,
  rings: readonly Ring[],
): { front: OpenSide; back: OpenSide } {
  const numbers = numberVertices(trace.side);
  const front = new SideVertices(part, trace, numbers.index, numbers.frontCount);
  const back = new SideVertices(part, trace, numbers.index, numbers.backCount);
  const pieces = part.patches.map((patch, run) => {
    const parted = divideMixed(part.positions, patch.triangles, trace.runs[run].mixed, plane, trace);
    return {
      front: gatherPatch(patch, 1, trace, run, numbers.index, front.numberAll(parted.front)),
      back: gatherPatch(patch, -1, trace, run, numbers.index, back.numberAll(parted.back)),
    };
  });
  const side = (vertices: SideVertices, which: 1 | -1, patches: Patch[]): OpenSide => ({
    positions: vertices.positions(which),
    patches: patches.filter((patch) => patch.triangles.length > 0),
    rings: rings.map((ring) => vertices.numberAll(ring)),
  });
  return {
    front: side(
      front,
      1,
      pieces.map((piece) => piece.front),
    ),
    back: side(
      back,
      -1,
      pieces.map((piece) => piece.back),
    ),
  };
}

/** Every vertex off the plane gets its number on the one side it belongs to, in the old order. */
function numberVertices(side: Int8Array): { index: Uint32Array; frontCount: number; backCount: number } {
  const index = new Uint32Array(side.length);
  let frontCount = 0;
  let backCount = 0;
  for (let v = 0; v < side.length; v++) {
    if (side[v] > 0) index[v] = frontCount++;
    else if (side[v] < 0) index[v] = backCount++;
  }
  return { index, frontCount, backCount };
}

/** Vertices of one side: those strictly on it, then those in the plane as they are asked for. */
class SideVertices {
  private readonly inPlane = new Map<number, number>();
  private readonly part: Part;
  private readonly trace: Trace;
  private readonly index: Uint32Array;
  private readonly offPlane: number;

  constructor(part: Part, trace: Trace, index: Uint32Array, offPlane: number) {
    this.part = part;
    this.trace = trace;
    this.index = index;
    this.offPlane = offPlane;
  }

  /** This side's numbers for trace ids. */
  numberAll(ids: ArrayLike<number>): Uint32Array {
    const numbers = new Uint32Array(ids.length);
    for (let i = 0; i < ids.length; i++) numbers[i] = this.number(ids[i]);
    return numbers;
  }

  private number(id: number): number {
    if (id < this.trace.vertexCount && this.trace.side[id] !== 0) return this.index[id];
    let number = this.inPlane.get(id);
    if (number === undefined) {
      number = this.offPlane + this.inPlane.size;
      this.inPlane.set(id, number);
    }
    return number;
  }

  /** Coordinates of all vertices numbered so far, for the side `which`. */
  positions(which: 1 | -1): Float32Array {
    const { side, vertexCount, cutPositions } = this.trace;
    const src = this.part.positions;
    const dst = new Float32Array((this.offPlane + this.inPlane.size) * 3);
    for (let v = 0, to = 0; v < side.length; v++) {
      if (side[v] !== which) continue;
      dst[to] = src[v * 3];
      dst[to + 1] = src[v * 3 + 1];
      dst[to + 2] = src[v * 3 + 2];
      to += 3;
    }
    for (const [id, number] of this.inPlane) {
      const from = id < vertexCount ? src : cutPositions;
      const at = (id < vertexCount ? id : id - vertexCount) * 3;
      dst.set(from.subarray(at, at + 3), number * 3);
    }
    return dst;
  }
}

/** One side's triangles of a patch: the whole ones renumbered, then those made along the plane. */
function gatherPatch(
  { of, triangles: src }: Patch,
  which: 1 | -1,
  { side, runs }: Trace,
  run: number,
  index: Uint32Array,
  made: Uint32Array,
): Patch {
  const count = which > 0 ? runs[run].frontCount : runs[run].backCount;
  const triangles = new Uint32Array(count * 3 + made.length);
  const whole = which * 3;
  let to = 0;
  for (let i = 0; i < src.length; i += 3) {
    const a = src[i];
    const b = src[i + 1];
    const c = src[i + 2];
    if (side[a] + side[b] + side[c] !== whole) continue;
    triangles[to] = index[a];
    triangles[to + 1] = index[b];
    triangles[to + 2] = index[c];
    to += 3;
  }
  triangles.set(made, to);
  return { of, triangles };
}

/** Triangles (trace ids) that crossed or touching ones leave on each side. */
function divideMixed(
  positions: Float32Array,
  src: Uint32Array,
  mixed: Uint32Array,
  plane: Plane,
  trace: Trace,
): { front: number[]; back: number[] } {
  const front: number[] = [];
  const back: number[] = [];
  for (const i of mixed) {
    const corners = [src[i], src[i + 1], src[i + 2]];
    const sides = corners.map((v) => trace.side[v]);
    const low = Math.min(...sides);
    const high = Math.max(...sides);
    if (low < 0 && high > 0) divideTriangle(corners, trace, front, back);
    else if (high > 0) front.push(...corners);
    else if (low < 0) back.push(...corners);
    else (flatFacesFront(positions, corners, plane) ? back : front).push(...corners);
  }
  return { front, back };
}

/** Walks around a crossed triangle and fans the polygon on each side of the plane. */
function divideTriangle(corners: readonly number[], trace: Trace, front: number[], back: number[]): void {
  const ahead: number[] = [];
  const behind: number[] = [];
  for (let k = 0; k < 3; k++) {
    const a = corners[k];
    const b = corners[(k + 1) % 3];
    const sa = trace.side[a];
    if (sa >= 0) ahead.push(a);
    if (sa <= 0) behind.push(a);
    if (sa * trace.side[b] < 0) {
      const cut = trace.cutVertex(a, b);
      ahead.push(cut);
      behind.push(cut);
    }
  }
  fan(ahead, front);
  fan(behind, back);
}

/** A polygon's triangles; ones that two equal cut vertices have closed are left out. */
function fan(polygon: readonly number[], triangles: number[]): void {
  for (let k = 2; k < polygon.length; k++) {
    const [a, b, c] = [polygon[0], polygon[k - 1], polygon[k]];
    if (a !== b && b !== c && c !== a) triangles.push(a, b, c);
  }
}
