import type { Vec3 } from '../../math/vec3.ts';
import type { Mesh } from '../mesh.ts';
import { joinShells } from './shells.ts';

/** A number for the directed edge from vertex a to vertex b; meshes have fewer than 2²⁶ vertices. */
export const edgeKey = (a: number, b: number): number => a * EDGE_BASE + b;

const EDGE_BASE = 2 ** 26;

/** Half-edges gathered by the smaller of their two vertices: `starts[v]` to `starts[v + 1]`. */
export interface EdgeFans {
  starts: Uint32Array;
  /** The larger vertex of each half-edge. */
  far: Uint32Array;
  /** Twice the triangle's index, plus one where the half-edge runs from the larger vertex to the smaller. */
  who: Uint32Array;
}

export function edgeFans({ positions, triangles }: Mesh): EdgeFans {
  const starts = new Uint32Array(positions.length / 3 + 2);
  // Counted two places up, then summed, so that filling can advance `starts[v + 1]` to its final value.
  countFans(triangles, starts);
  for (let v = 2; v < starts.length; v++) starts[v] += starts[v - 1];
  const far = new Uint32Array(starts[starts.length - 1]);
  const who = new Uint32Array(far.length);
  fillFans(triangles, starts, far, who);
  return { starts, far, who };
}

function countFans(t: Uint32Array, starts: Uint32Array): void {
  for (let i = 0; i < t.length; i += 3) {
    const a = t[i];
    const b = t[i + 1];
    const c = t[i + 2];
    if (a === b || b === c || c === a) continue;
    starts[Math.min(a, b) + 2]++;
    starts[Math.min(b, c) + 2]++;
    starts[Math.min(c, a) + 2]++;
  }
}

function fillFans(t: Uint32Array, starts: Uint32Array, far: Uint32Array, who: Uint32Array): void {
  for (let i = 0, w = 0; i < t.length; i += 3, w += 2) {
    const a = t[i];
    const b = t[i + 1];
    const c = t[i + 2];
    if (a === b || b === c || c === a) continue;
    const ab = starts[Math.min(a, b) + 1]++;
    far[ab] = Math.max(a, b);
    who[ab] = a < b ? w : w + 1;
    const bc = starts[Math.min(b, c) + 1]++;
    far[bc] = Math.max(b, c);
    who[bc] = b < c ? w : w + 1;
    const ca = starts[Math.min(c, a) + 1]++;
    far[ca] = Math.max(c, a);
    who[ca] = c < a ? w : w + 1;
  }
}

export interface EdgeCounts {
  open: number;
  nonManifold: number;
  misWound: number;
  /** True where two triangles run through one edge the same way: only then can triangles be doubled. */
  repeated: boolean;
  firstDefectAt: Vec3 | null;
}

/** Half-edges met on an edge: the forward ones in the low bits, the backward ones above. Both stop at `MANY`. */
const FORWARD = 1;
const BACKWARD = 4;
const MANY = 3;
/** A tally that makes a sound edge. */
const SOUND = FORWARD + BACKWARD;
/** A half-edge that was counted with an earlier one. */
const COUNTED = 0;

/**
 * Tallies every edge, joining its triangles into one shell where `shells` are asked for.
 * `onOpen` is told each open edge: its half-edge as in `who`, and the smaller of its vertices.
 * The tally replaces `fans.far` at the edge's first half-edge; `seenAt` finds that again without sorting,
 * so a vertex with a million spokes costs no more than a million others.
 */
export function countEdges(
  mesh: Mesh,
  fans: EdgeFans,
  shells: Uint32Array | null,
  onOpen: ((who: number, v: number) => void) | null,
): EdgeCounts {
  const { starts, far: tally, who } = fans;
  const counts: EdgeCounts = { open: 0, nonManifold: 0, misWound: 0, repeated: false, firstDefectAt: null };
  const vertices = starts.length - 2;
  /** Per far vertex, one more than the place of the edge's first half-edge; older fans' places are below `from`. */
  const seenAt = new Uint32Array(vertices);
  for (let v = 0; v < vertices; v++) {
    const from = starts[v];
    const to = starts[v + 1];
    let clean = true;
    for (let i = from; i < to; i++) {
      const far = tally[i];
      const step = (who[i] & 1) === 0 ? FORWARD : BACKWARD;
      const first = seenAt[far] - 1;
      if (first < from) {
        seenAt[far] = i + 1;
        tally[i] = step;
      } else {
        tally[i] = COUNTED;
        tally[first] = add(tally[first], step);
        if (shells) joinShells(shells, who[first] >>> 1, who[i] >>> 1);
      }
    }
    for (let i = from; i < to; i++) if (tally[i] !== SOUND && tally[i] !== COUNTED) clean = false;
    if (!clean) countDefects(mesh, fans, v, counts, onOpen);
  }
  return counts;
}

/** The tally with one more half-edge; a count that reached `MANY` stays there. */
function add(tally: number, step: number): number {
  return Math.floor(tally / step) % BACKWARD === MANY ? tally : tally + step;
}

/** Sorts the faulty edges whose smaller vertex is `v` into their kinds. */
function countDefects(
  mesh: Mesh,
  { starts, far: tally, who }: EdgeFans,
  v: number,
  counts: EdgeCounts,
  onOpen: ((who: number, v: number) => void) | null,
): void {
  for (let i = starts[v]; i < starts[v + 1]; i++) {
    if (tally[i] === COUNTED || tally[i] === SOUND) continue;
    const forward = tally[i] % BACKWARD;
    const backward = Math.floor(tally[i] / BACKWARD);
    if (forward + backward === 1) {
      counts.open++;
      onOpen?.(who[i], v);
    } else if (forward + backward === 2) counts.misWound++;
    else counts.nonManifold++;
    if (forward > 1 || backward > 1) counts.repeated = true;
    counts.firstDefectAt ??= edgeMiddle(mesh, who[i], v);
  }
}

/** The other vertex of the edge from `v` that the half-edge `who` runs along. */
export function edgeFar({ triangles: t }: Mesh, who: number, v: number): number {
  const base = (who >>> 1) * 3;
  const corner = t[base] === v ? 0 : t[base + 1] === v ? 1 : 2;
  return t[base + ((corner + ((who & 1) === 0 ? 1 : 2)) % 3)];
}

/** Middle of that edge, in mesh coordinates. */
function edgeMiddle(mesh: Mesh, who: number, v: number): Vec3 {
  const p = mesh.positions;
  const far = edgeFar(mesh, who, v);
  const middle = (k: number) => (p[v * 3 + k] + p[far * 3 + k]) / 2;
  return [middle(0), middle(1), middle(2)];
}
