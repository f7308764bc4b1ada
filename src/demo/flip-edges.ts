import { PairTable } from '../mesh/topology/pair-table.ts';
import type { RawMesh } from './raw-mesh.ts';

/** An edge is flipped only between triangles this flat to each other, before and after (cosine). */
const FLAT_COSINE = 0.85;

/**
 * Flips edges until, as far as the surface is nearly flat, no corner opposite an edge pair adds up to
 * more than half a turn: the triangles become as round as their corners allow. Corner h of the mesh
 * also stands for the edge from it to the next corner of its triangle. Changes the mesh in place and
 * keeps it a closed 2-manifold: an edge that exists is never made again.
 */
export function flipEdges(mesh: RawMesh): void {
  const opposite = pairEdges(mesh.triangles);
  for (let sweep = 0; sweep < 2; sweep++) {
    for (let h = 0; h < opposite.length; h++) {
      if (h < opposite[h] && wantsFlip(mesh, h, opposite[h])) flip(mesh.triangles, opposite, h);
    }
  }
}

const next = (h: number): number => (h % 3 === 2 ? h - 2 : h + 1);
const before = (h: number): number => (h % 3 === 0 ? h + 2 : h - 1);

/** For each edge of a closed mesh, the same edge seen from the triangle across it. */
function pairEdges(triangles: Uint32Array): Uint32Array {
  const opposite = new Uint32Array(triangles.length);
  const edges = new PairTable(triangles.length / 2);
  /** The half-edge that was first on each edge. */
  const firstOn = new Uint32Array(triangles.length / 2);
  for (let h = 0; h < triangles.length; h++) {
    const a = triangles[h];
    const b = triangles[next(h)];
    const known = edges.count;
    const edge = a < b ? edges.number(a, b) : edges.number(b, a);
    if (edge === known) {
      firstOn[edge] = h;
      continue;
    }
    opposite[h] = firstOn[edge];
    opposite[firstOn[edge]] = h;
  }
  return opposite;
}

function wantsFlip({ positions: p, triangles: t }: RawMesh, h: number, g: number): boolean {
  const a = t[h] * 3;
  const b = t[g] * 3;
  const c = t[before(h)] * 3;
  const d = t[before(g)] * 3;
  if (cotangent(p, c, a, b) + cotangent(p, d, a, b) >= -1e-6) return false;
  const flat = (i: number, j: number, k: number, l: number, m: number, n: number): boolean =>
    normalCosine(p, i, j, k, l, m, n) > FLAT_COSINE;
  return flat(a, b, c, b, a, d) && flat(a, d, c, b, c, d) && flat(a, b, c, a, d, c);
}

/** Cotangent of the angle at `c` in the triangle c, a, b. */
function cotangent(p: Float64Array, c: number, a: number, b: number): number {
  const [ux, uy, uz] = [p[a] - p[c], p[a + 1] - p[c + 1], p[a + 2] - p[c + 2]];
  const [vx, vy, vz] = [p[b] - p[c], p[b + 1] - p[c + 1], p[b + 2] - p[c + 2]];
  const sine = Math.sqrt((uy * vz - uz * vy) ** 2 + (uz * vx - ux * vz) ** 2 + (ux * vy - uy * vx) ** 2);
  return (ux * vx + uy * vy + uz * vz) / (sine + 1e-12);
}

/** Cosine between the normals of the triangles i, j, k and l, m, n. */
function normalCosine(
  p: Float64Array,
  i: number,
  j: number,
  k: number,
  l: number,
  m: number,
  n: number,
): number {
  const u = normalOf(p, i, j, k);
  const v = normalOf(p, l, m, n);
  const size = Math.hypot(u[0], u[1], u[2]) * Math.hypot(v[0], v[1], v[2]);
  return size > 0 ? (u[0] * v[0] + u[1] * v[1] + u[2] * v[2]) / size : -1;
}

function normalOf(p: Float64Array, i: number, j: number, k: number): readonly [number, number, number] {
  const [ux, uy, uz] = [p[j] - p[i], p[j + 1] - p[i + 1], p[j + 2] - p[i + 2]];
  const [vx, vy, vz] = [p[k] - p[i], p[k + 1] - p[i + 1], p[k + 2] - p[i + 2]];
  return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
}

/** Turns the edge a–b of the triangles a b c and b a d into c–d, unless c and d are neighbours already. */
function flip(t: Uint32Array, opposite: Uint32Array, h: number): void {
  const g = opposite[h];
  const [h1, h2, g1, g2] = [next(h), before(h), next(g), before(g)];
  const [a, b, c, d] = [t[h], t[g], t[h2], t[g2]];
  if (areNeighbours(t, opposite, h2, d)) return;
  const [acrossAd, acrossBc] = [opposite[g1], opposite[h1]];
  t[h] = a;
  t[h1] = d;
  t[h2] = c;
  t[g] = b;
  t[g1] = c;
  t[g2] = d;
  link(opposite, h, acrossAd);
  link(opposite, g, acrossBc);
  link(opposite, h1, g1);
}

function link(opposite: Uint32Array, h: number, g: number): void {
  opposite[h] = g;
  opposite[g] = h;
}

/** Whether an edge runs from the corner `h` to the vertex `d`. */
function areNeighbours(t: Uint32Array, opposite: Uint32Array, h: number, d: number): boolean {
  let walk = h;
  do {
    if (t[next(walk)] === d) return true;
    walk = opposite[before(walk)];
  } while (walk !== h);
  return false;
}
