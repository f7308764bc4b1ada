import type { Plane } from '../math/plane.ts';
import type { Part, Patch } from '../mesh/part/part.ts';
import { NOTHING_ADDED, type Vertices } from '../mesh/part/vertices.ts';
import { flatFacesFront } from '../mesh/plane/crossing.ts';
import type { Ring } from '../mesh/plane/outline.ts';
import type { Trace, TracedRun } from '../mesh/plane/trace.ts';
import { PairTable } from '../mesh/topology/pair-table.ts';
import { type GatheredRun, gatherRun, placeBlocks, type SideRun } from './gather-run.ts';

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
  const runs = trace.runs.map((run) => ({ ...run, ...divideMixed(run, plane, trace) }));
  return gatherSides(part, trace, runs, rings, trace.edges.length / 2);
}

/** What tells the sides of a divided part from each other. */
export interface SideLabels {
  /** The part's own vertices, then those that were cut. */
  vertices: Vertices;
  ownCount: number;
  /** Per own vertex: 1 in front, −1 behind, 0 on the seam. */
  side: Int8Array;
}

/** A run of triangles that was divided, and the triangles (ids) that came of the divided ones. */
export interface DividedRun extends SideRun {
  front: Uint32Array;
  back: Uint32Array;
}

/** Both sides of a divided part; `expected` is about how many vertices lie on the seam. */
export function gatherSides(
  part: Part,
  labels: SideLabels,
  divided: readonly DividedRun[],
  rings: readonly Uint32Array[],
  expected: number,
): { front: OpenSide; back: OpenSide } {
  const numbers = numberVertices(labels);
  const side = (which: 1 | -1): OpenSide => {
    const offSeam = which > 0 ? numbers.front : numbers.back;
    const vertices = new SideVertices(labels, which, numbers.index, offSeam, expected);
    const runs = divided.map((run) => {
      const made = vertices.numberAll(which > 0 ? run.front : run.back);
      return gatherRun(part, run, which, labels.side, numbers.index, made);
    });
    const ringIds = rings.map((ring) => vertices.numberAll(ring));
    return { ...finishSide(part, vertices.positions(), runs), rings: ringIds };
  };
  return { front: side(1), back: side(-1) };
}

function finishSide(
  part: Part,
  positions: Float32Array,
  runs: readonly GatheredRun[],
): Omit<OpenSide, 'rings'> {
  const patches = runs.flatMap((run, i) => {
    if (run.triangles.length === 0) return [];
    placeBlocks({ positions, added: NOTHING_ADDED }, run);
    return [{ of: part.patches[i].of, triangles: run.triangles }];
  });
  return { positions, patches };
}

interface VertexNumbers {
  /** Per vertex off the seam, its number on the side it belongs to, in the old order. */
  index: Uint32Array;
  front: number;
  back: number;
}

function numberVertices({ side }: SideLabels): VertexNumbers {
  const index = new Uint32Array(side.length);
  let front = 0;
  let back = 0;
  for (let v = 0; v < side.length; v++) {
    if (side[v] > 0) index[v] = front++;
    else if (side[v] < 0) index[v] = back++;
  }
  return { index, front, back };
}

/** Vertices of one side: those strictly on it, then those on the seam as they are asked for, one of the other side that a seam runs through too. */
class SideVertices {
  readonly #labels: SideLabels;
  readonly #which: 1 | -1;
  readonly #index: Uint32Array;
  readonly #offSeam: number;
  readonly #onSeam: PairTable;

  constructor(labels: SideLabels, which: 1 | -1, index: Uint32Array, offSeam: number, expected: number) {
    this.#labels = labels;
    this.#which = which;
    this.#index = index;
    this.#offSeam = offSeam;
    this.#onSeam = new PairTable(expected);
  }

  /** This side's numbers for ids. */
  numberAll(ids: Uint32Array): Uint32Array {
    const { ownCount, side } = this.#labels;
    const numbers = new Uint32Array(ids.length);
    for (let i = 0; i < ids.length; i++) {
      const id = ids[i];
      const isOff = id < ownCount && side[id] === this.#which;
      numbers[i] = isOff ? this.#index[id] : this.#offSeam + this.#onSeam.number(id, 0);
    }
    return numbers;
  }

  /** Coordinates of all vertices numbered so far. */
  positions(): Float32Array {
    const { side, ownCount, vertices } = this.#labels;
    const { positions: own, added: cut } = vertices;
    const dst = new Float32Array((this.#offSeam + this.#onSeam.count) * 3);
    let to = 0;
    for (let v = 0; v < side.length; v++) {
      if (side[v] !== this.#which) continue;
      dst[to] = own[v * 3];
      dst[to + 1] = own[v * 3 + 1];
      dst[to + 2] = own[v * 3 + 2];
      to += 3;
    }
    for (let number = 0; number < this.#onSeam.count; number++) {
      const id = this.#onSeam.first(number);
      const from = id < ownCount ? own : cut;
      const at = (id < ownCount ? id : id - ownCount) * 3;
      dst[to] = from[at];
      dst[to + 1] = from[at + 1];
      dst[to + 2] = from[at + 2];
      to += 3;
    }
    return dst;
  }
}

/** Triangles (trace ids) that crossed or touching ones leave on each side. */
function divideMixed(run: TracedRun, plane: Plane, trace: Trace): { front: Uint32Array; back: Uint32Array } {
  const front: number[] = [];
  const back: number[] = [];
  const { triangles, at, sides } = run;
  for (let m = 0; m < at.length; m++) {
    const s = m * 3;
    const i = at[m];
    const inFront = sides[s] > 0 || sides[s + 1] > 0 || sides[s + 2] > 0;
    const behind = sides[s] < 0 || sides[s + 1] < 0 || sides[s + 2] < 0;
    if (inFront && behind) divideTriangle(run, m, trace, front, back);
    else if (inFront) front.push(triangles[i], triangles[i + 1], triangles[i + 2]);
    else if (behind) back.push(triangles[i], triangles[i + 1], triangles[i + 2]);
    else {
      const facesFront = flatFacesFront(trace.vertices, triangles.subarray(i, i + 3), plane);
      (facesFront ? back : front).push(triangles[i], triangles[i + 1], triangles[i + 2]);
    }
  }
  return { front: Uint32Array.from(front), back: Uint32Array.from(back) };
}

/** Walks around a crossed triangle and fans the polygon on each side of the plane. */
function divideTriangle(
  { triangles, at, sides }: TracedRun,
  m: number,
  trace: Trace,
  front: number[],
  back: number[],
): void {
  const ahead: number[] = [];
  const behind: number[] = [];
  for (let k = 0; k < 3; k++) {
    const l = k === 2 ? 0 : k + 1;
    const a = triangles[at[m] + k];
    const b = triangles[at[m] + l];
    const sa = sides[m * 3 + k];
    if (sa >= 0) ahead.push(a);
    if (sa <= 0) behind.push(a);
    if (sa * sides[m * 3 + l] < 0) {
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
  const a = polygon[0];
  for (let k = 2; k < polygon.length; k++) {
    const b = polygon[k - 1];
    const c = polygon[k];
    if (a !== b && b !== c && c !== a) triangles.push(a, b, c);
  }
}
