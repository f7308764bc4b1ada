import { MEND_TUNING } from '../tuning.ts';
import type { Patch } from './refine-patch.ts';

/** What a rim point of a patch has beside it in the surface around: places, x, y, z each. */
export type Surroundings = readonly (readonly number[])[];

/**
 * Moves the points inside a patch so that it goes on as the surface around bends: least Σ |U|² over the points of
 * the patch and its rim, U the umbrella of a point, its distance from its neighbours' mean weighted by inverse
 * length (Kobbelt et al., *SIGGRAPH* 1998; scale-dependent: Desbrun et al., *SIGGRAPH* 1999). Solved by conjugate
 * gradients on the least-squares form (Björck, *Numerical Methods for Least Squares Problems*, 1996, §7.4).
 */
export function fairPatch(patch: Patch, around: Surroundings): void {
  const { points, fixedCount } = patch;
  if (points.length / 3 === fixedCount) return;
  const rows = umbrellaRows(patch, around);
  for (let k = 0; k < 3; k++) {
    const free = Float64Array.from(
      { length: points.length / 3 - fixedCount },
      (_, i) => points[(fixedCount + i) * 3 + k],
    );
    solve(rows, rows.known[k], free);
    for (let i = 0; i < free.length; i++) points[(fixedCount + i) * 3 + k] = free[i];
  }
}

/** Umbrellas as rows over the free points: row r has entries `starts[r]` up to `starts[r + 1]`. */
interface Rows {
  starts: number[];
  columns: number[];
  values: number[];
  /** What the fixed points add to each row, per axis; turned over, the right-hand side. */
  known: [number[], number[], number[]];
}

function umbrellaRows({ points: p, triangles: t, fixedCount }: Patch, around: Surroundings): Rows {
  const count = p.length / 3;
  const neighbours: Set<number>[] = Array.from({ length: count }, () => new Set());
  for (let i = 0; i < t.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      neighbours[t[i + k]].add(t[i + ((k + 1) % 3)]);
      neighbours[t[i + ((k + 1) % 3)]].add(t[i + k]);
    }
  }
  const rows: Rows = { starts: [0], columns: [], values: [], known: [[], [], []] };
  for (let v = 0; v < count; v++) {
    const known = [0, 0, 0];
    const put = (u: number, weight: number) => {
      if (u >= fixedCount) {
        rows.columns.push(u - fixedCount);
        rows.values.push(weight);
      } else for (let k = 0; k < 3; k++) known[k] -= weight * p[u * 3 + k];
    };
    const places = v < fixedCount ? around[v] : [];
    const inner = [...neighbours[v]].map((u) => inverseLength(p, v, p, u));
    const outer = Array.from({ length: places.length / 3 }, (_, n) => inverseLength(p, v, places, n));
    const sum = [...inner, ...outer].reduce((a, b) => a + b, 0);
    // The umbrella is as long as h² times the Laplacian and stands for an area of h²: by 1/h its square is the bending.
    const scale = 1 / (inner.length + outer.length);
    put(v, sum * scale);
    [...neighbours[v]].forEach((u, n) => {
      put(u, -inner[n] * scale);
    });
    for (let i = 0; i < places.length; i++) known[i % 3] += outer[(i / 3) | 0] * scale * places[i];
    rows.starts.push(rows.columns.length);
    for (let k = 0; k < 3; k++) rows.known[k].push(known[k]);
  }
  return rows;
}

/** Shortest length that counts, mm: points on each other must not weigh infinitely. */
const LEAST_LENGTH = 1e-9;

function inverseLength(p: readonly number[], a: number, q: readonly number[], b: number): number {
  const far = Math.hypot(p[a * 3] - q[b * 3], p[a * 3 + 1] - q[b * 3 + 1], p[a * 3 + 2] - q[b * 3 + 2]);
  return 1 / Math.max(far, LEAST_LENGTH);
}

/** Improves `x` until rows · x is as near to `rhs` as can be. */
function solve(rows: Rows, rhs: readonly number[], x: Float64Array): void {
  const r = multiply(rows, x).map((v, i) => rhs[i] - v);
  let s = multiplyAcross(rows, r, x.length);
  const step = s.slice();
  let gamma = squared(s);
  const goal = gamma * MEND_TUNING.fairResidual ** 2;
  for (let n = 0; n < MEND_TUNING.fairSteps && gamma > goal; n++) {
    const q = multiply(rows, step);
    const alpha = gamma / squared(q);
    for (let i = 0; i < x.length; i++) x[i] += alpha * step[i];
    for (let i = 0; i < r.length; i++) r[i] -= alpha * q[i];
    s = multiplyAcross(rows, r, x.length);
    const next = squared(s);
    for (let i = 0; i < x.length; i++) step[i] = s[i] + (next / gamma) * step[i];
    gamma = next;
  }
}

function squared(v: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < v.length; i++) sum += v[i] * v[i];
  return sum;
}

function multiply({ starts, columns, values }: Rows, x: Float64Array): Float64Array {
  const y = new Float64Array(starts.length - 1);
  for (let r = 0; r < y.length; r++) {
    for (let i = starts[r]; i < starts[r + 1]; i++) y[r] += values[i] * x[columns[i]];
  }
  return y;
}

/** The transposed rows times `y`. */
function multiplyAcross({ starts, columns, values }: Rows, y: Float64Array, size: number): Float64Array {
  const x = new Float64Array(size);
  for (let r = 0; r < y.length; r++) {
    for (let i = starts[r]; i < starts[r + 1]; i++) x[columns[i]] += values[i] * y[r];
  }
  return x;
}
