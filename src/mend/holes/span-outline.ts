/**
 * Spans an outline in space by triangles between its corners, by dynamic programming over its pieces
 * (Barequet & Sharir, *Computer Aided Geometric Design* 12, 1995), choosing first the least greatest fold, those
 * against the surface around counted, and then the least area (Liepa, *Symposium on Geometry Processing* 2003).
 * Time grows with the cube of the corners.
 */

/** An outline to be spanned. */
export interface Outline {
  /** Vertices in the patch's turn. */
  ring: ArrayLike<number>;
  /** Per edge from a corner to the next, the far vertex of the triangle beyond it, or `NO_APEX`. */
  apexes: ArrayLike<number>;
}

export const NO_APEX = -1;

/** True where the mesh has an edge between two vertices already, so that a chord there would be one too many. */
export type IsTaken = (a: number, b: number) => boolean;

/** Folds as 1 − cos: 0 is flat, 2 folded back. A triangle without area counts as folded back. */
const WORST_FOLD = 2;

/** Triangles, three vertices each, or null where no way of spanning keeps clear of taken edges. */
export function spanOutline(p: Float32Array, outline: Outline, isTaken: IsTaken): Uint32Array | null {
  const n = outline.ring.length;
  const table: Table = {
    n,
    fold: new Float64Array(n * n),
    area: new Float64Array(n * n),
    split: new Uint16Array(n * n),
  };
  for (let gap = 2; gap < n; gap++) {
    for (let i = 0; i + gap < n; i++) solvePiece(p, outline, isTaken, table, i, i + gap);
  }
  if (table.fold[n - 1] === Number.POSITIVE_INFINITY) return null;
  return readTable(outline, table);
}

/** Per piece of the outline from corner i to corner k: its best fold and area, and the corner that closes it. */
interface Table {
  n: number;
  fold: Float64Array;
  area: Float64Array;
  split: Uint16Array;
}

function solvePiece(
  p: Float32Array,
  outline: Outline,
  isTaken: IsTaken,
  table: Table,
  i: number,
  k: number,
): void {
  const { n, fold, area, split } = table;
  const { ring, apexes } = outline;
  const at = i * n + k;
  const whole = k - i === n - 1;
  fold[at] = Number.POSITIVE_INFINITY;
  area[at] = Number.POSITIVE_INFINITY;
  if (!whole && isTaken(ring[i], ring[k])) return;
  for (let m = i + 1; m < k; m++) {
    const below = Math.max(fold[i * n + m], fold[m * n + k]);
    if (below > fold[at]) continue;
    const own = normalOf(p, ring[i], ring[m], ring[k], scratch);
    let worst = Math.max(below, foldAt(p, outline, table, i, m, own), foldAt(p, outline, table, m, k, own));
    if (whole && apexes[n - 1] !== NO_APEX) {
      worst = Math.max(worst, foldOf(own, normalOf(p, ring[0], ring[n - 1], apexes[n - 1], other)));
    }
    if (worst === Number.POSITIVE_INFINITY) continue;
    const sum = area[i * n + m] + area[m * n + k] + own[3] / 2;
    if (worst < fold[at] || (worst === fold[at] && sum < area[at])) {
      fold[at] = worst;
      area[at] = sum;
      split[at] = m;
    }
  }
}

/** A unit normal and its length before: twice the triangle's area. */
type Normal = Float64Array;
const scratch: Normal = new Float64Array(4);
const other: Normal = new Float64Array(4);

/** Fold along the edge from corner i to k, against what lies beyond it: the surface around, or the piece's triangle. */
function foldAt(
  p: Float32Array,
  { ring, apexes }: Outline,
  table: Table,
  i: number,
  k: number,
  own: Normal,
): number {
  if (k - i > 1) {
    return foldOf(own, normalOf(p, ring[i], ring[table.split[i * table.n + k]], ring[k], other));
  }
  return apexes[i] === NO_APEX ? 0 : foldOf(own, normalOf(p, ring[k], ring[i], apexes[i], other));
}

function foldOf(a: Normal, b: Normal): number {
  if (a[3] === 0 || b[3] === 0) return WORST_FOLD;
  return 1 - (a[0] * b[0] + a[1] * b[1] + a[2] * b[2]);
}

function normalOf(p: Float32Array, ia: number, ib: number, ic: number, into: Normal): Normal {
  const a = ia * 3;
  const b = ib * 3;
  const c = ic * 3;
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const x = uy * vz - uz * vy;
  const y = uz * vx - ux * vz;
  const z = ux * vy - uy * vx;
  const length = Math.sqrt(x * x + y * y + z * z);
  into[0] = x / length;
  into[1] = y / length;
  into[2] = z / length;
  into[3] = length;
  return into;
}

function readTable({ ring }: Outline, { n, split }: Table): Uint32Array {
  const triangles: number[] = [];
  const pieces: [number, number][] = [[0, n - 1]];
  for (let piece = pieces.pop(); piece; piece = pieces.pop()) {
    const [i, k] = piece;
    if (k - i < 2) continue;
    const m = split[i * n + k];
    triangles.push(ring[i], ring[m], ring[k]);
    pieces.push([i, m], [m, k]);
  }
  return Uint32Array.from(triangles);
}
