import type { Mesh } from '../../mesh/mesh.ts';
import { edgeKey } from '../../mesh/topology/edges.ts';
import { countCrossing } from '../report/self-crossings.ts';
import { nextHalf } from '../touching/edge-groups.ts';
import { MEND_TUNING } from '../tuning.ts';
import { divideOutline } from './divide-outline.ts';
import { fairPatch } from './fair-patch.ts';
import { type Patch, refinePatch } from './refine-patch.ts';
import { type IsTaken, NO_APEX } from './span-outline.ts';

export interface Filled {
  /** The mesh's own triangles, in order and to the bit, then those of the patches. */
  mesh: Mesh;
  filledCount: number;
  /** Farthest the middle of a new triangle lies from its hole's outline, mm. */
  deviationMm: number;
  /** New triangles that cross others. */
  crossings: number;
}

export type FillHow = 'flat' | 'smooth';

/**
 * Closes holes, given by their outlines (see `holeOutlines`). Flat adds triangles between an outline's corners alone;
 * smooth adds points, so that the patch is as dense as the surface around and bends as it does.
 */
export function fillHoles(mesh: Mesh, outlines: readonly Uint32Array[], how: FillHow): Filled {
  if (outlines.length === 0) return { mesh, filledCount: 0, deviationMm: 0, crossings: 0 };
  const rims = factsOf(mesh, outlines);
  const points: number[] = [];
  const triangles: number[] = [];
  let deviationMm = 0;
  for (const ring of outlines) {
    const patch = makePatch(mesh, ring, rims, how);
    deviationMm = Math.max(deviationMm, deviationOf(patch));
    const base = mesh.positions.length / 3 + points.length / 3 - ring.length;
    const idOf = (local: number) => (local < ring.length ? ring[local] : base + local);
    for (let i = 0; i < patch.triangles.length; i += 3) {
      const [a, b, c] = [0, 1, 2].map((k) => idOf(patch.triangles[i + k]));
      triangles.push(a, b, c);
      take(rims.taken, a, b);
      take(rims.taken, b, c);
      take(rims.taken, c, a);
    }
    for (let i = ring.length * 3; i < patch.points.length; i++) points.push(patch.points[i]);
  }
  const filled = appended(mesh, points, triangles);
  const crossings = countCrossing(filled, mesh.triangles.length / 3);
  return { mesh: filled, filledCount: outlines.length, deviationMm, crossings };
}

function appended({ positions, triangles }: Mesh, morePoints: number[], moreTriangles: number[]): Mesh {
  const p = new Float32Array(positions.length + morePoints.length);
  p.set(positions);
  p.set(morePoints, positions.length);
  const t = new Uint32Array(triangles.length + moreTriangles.length);
  t.set(triangles);
  t.set(moreTriangles, triangles.length);
  return { positions: p, triangles: t };
}

/** What the surface around holes is like. */
interface RimFacts {
  /** Edges between rim vertices, whichever way. */
  taken: Set<number>;
  /** Far vertex of the triangle beyond an outline's edge, by the edge in the patch's turn. */
  apexes: Map<number, number>;
  /** Neighbours of each rim vertex. */
  around: Map<number, Set<number>>;
}

function factsOf({ triangles: t }: Mesh, outlines: readonly Uint32Array[]): RimFacts {
  const around = new Map<number, Set<number>>();
  for (const ring of outlines) for (const v of ring) around.set(v, new Set());
  const facts: RimFacts = { taken: new Set(), apexes: new Map(), around };
  for (let h = 0; h < t.length; h++) {
    const [a, b] = [t[h], t[nextHalf(h)]];
    around.get(a)?.add(b);
    around.get(b)?.add(a);
    if (!around.has(a) || !around.has(b)) continue;
    take(facts.taken, a, b);
    facts.apexes.set(edgeKey(b, a), t[nextHalf(nextHalf(h))]);
  }
  return facts;
}

const take = (taken: Set<number>, a: number, b: number) => taken.add(edgeKey(Math.min(a, b), Math.max(a, b)));

/** A patch whose rim points are the outline's, in order. */
function makePatch({ positions: p }: Mesh, ring: Uint32Array, rims: RimFacts, how: FillHow): Patch {
  const n = ring.length;
  const apexes = Array.from(ring, (v, i) => rims.apexes.get(edgeKey(v, ring[(i + 1) % n])) ?? NO_APEX);
  const isTaken: IsTaken = (a, b) => rims.taken.has(edgeKey(Math.min(a, b), Math.max(a, b)));
  const spanned = divideOutline(p, { ring, apexes }, isTaken);
  const placeOf = new Map(Array.from(ring, (v, i) => [v, i]));
  const points = Array.from(ring).flatMap((v) => [p[v * 3], p[v * 3 + 1], p[v * 3 + 2]]);
  const patch: Patch = spanned
    ? { points, triangles: Array.from(spanned, (v) => placeOf.get(v) as number), fixedCount: n }
    : fanned(points);
  if (how === 'flat') return patch;
  const around = Array.from(ring, (v) => [...(rims.around.get(v) as Set<number>)]);
  const places = around.map((list) => list.flatMap((u) => [p[u * 3], p[u * 3 + 1], p[u * 3 + 2]]));
  const scales = places.map((place, i) => meanDistance(points, i, place));
  const least = (MEND_TUNING.leastScale * scales.reduce((sum, scale) => sum + scale, 0)) / n;
  const bounded = scales.map((scale) => Math.max(scale, least));
  refinePatch(patch, bounded, (a, b) => isTaken(ring[a], ring[b]));
  const onRing = new Set(ring);
  const beyond = around.map((list) =>
    list.filter((u) => !onRing.has(u)).flatMap((u) => [p[u * 3], p[u * 3 + 1], p[u * 3 + 2]]),
  );
  fairPatch(patch, beyond);
  return patch;
}

/** Triangles from every edge to the outline's middle, where no others can be had. */
function fanned(ring: readonly number[]): Patch {
  const n = ring.length / 3;
  const middle = [0, 1, 2].map((k) => ring.reduce((sum, v, i) => (i % 3 === k ? sum + v : sum), 0) / n);
  const triangles = Array.from({ length: n }, (_, i) => [i, (i + 1) % n, n]).flat();
  return { points: [...ring, ...middle], triangles, fixedCount: n };
}

function meanDistance(points: readonly number[], i: number, places: readonly number[]): number {
  let sum = 0;
  for (let k = 0; k < places.length; k += 3) {
    sum += Math.hypot(
      points[i * 3] - places[k],
      points[i * 3 + 1] - places[k + 1],
      points[i * 3 + 2] - places[k + 2],
    );
  }
  return (sum * 3) / places.length;
}

function deviationOf({ points: p, triangles: t, fixedCount }: Patch): number {
  let most = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [t[i] * 3, t[i + 1] * 3, t[i + 2] * 3];
    const x = (p[a] + p[b] + p[c]) / 3;
    const y = (p[a + 1] + p[b + 1] + p[c + 1]) / 3;
    const z = (p[a + 2] + p[b + 2] + p[c + 2]) / 3;
    let least = Number.POSITIVE_INFINITY;
    for (let v = 0; v < fixedCount && least > most; v++) {
      least = Math.min(least, segmentSquared(p, v * 3, ((v + 1) % fixedCount) * 3, x, y, z));
    }
    most = Math.max(most, least);
  }
  return Math.sqrt(most);
}

/** Squared distance of a point from the segment between two of `p`. */
function segmentSquared(p: readonly number[], a: number, b: number, x: number, y: number, z: number): number {
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const along = (x - p[a]) * ux + (y - p[a + 1]) * uy + (z - p[a + 2]) * uz;
  const s = Math.min(1, Math.max(0, along / (ux * ux + uy * uy + uz * uz || 1)));
  return (p[a] + s * ux - x) ** 2 + (p[a + 1] + s * uy - y) ** 2 + (p[a + 2] + s * uz - z) ** 2;
}
