import { joinIndices } from '../../mesh/part/join-indices.ts';
import type { Part, Patch } from '../../mesh/part/part.ts';

/**
 * The part with edges of `isOf` patches that are shorter than `leastMm` taken out, and of the others those of no length at
 * all, their ends made one: where two surfaces cross beside a corner of one of them, a boolean leaves edges that single
 * precision hardly tells from nothing. What a file has of its own is longer than nothing, and stays. An edge is
 * left where joining its ends would pinch the surface. All its vertices are its own (`added` has none), and stay.
 */
export function joinClose(part: Part, isOf: (patch: Patch) => boolean, leastMm: number): Part {
  const leastOf = (patch: Patch) => (isOf(patch) ? leastMm : NO_LENGTH);
  const all = part.patches.flatMap((patch) => shortEdges(part.positions, patch, leastOf(patch)));
  if (all.length === 0) return part;
  const ends = new Uint8Array(part.positions.length / 3);
  for (const [a, b] of all) ends[a] = ends[b] = 1;
  const far: Uint32Array[] = [];
  const near = part.patches.map((patch): NearRun => {
    const parted = partedAt(patch.triangles, ends);
    far.push(parted.far);
    return { triangles: parted.near, leastMm: leastOf(patch) };
  });
  joinEnds(part.positions, near, ends);
  const patches = part.patches.map(
    ({ of }, i): Patch => ({ of, triangles: joinIndices([far[i], standing(near[i])]) }),
  );
  return { ...part, patches };
}

/** Triangles of a patch that are joined where their edges are shorter than its own least; those that are gone have one corner thrice. */
interface NearRun {
  triangles: Uint32Array;
  leastMm: number;
}

/** Joins ends of short edges until none is left that can be. Around `ends` all triangles are there: what is joined is seen whole. */
function joinEnds(p: Float32Array, near: readonly NearRun[], ends: Uint8Array): void {
  const around = trianglesAround(near);
  const left = new Set<string>();
  const canJoin = (a: number, b: number, leastMm: number) =>
    a !== b && ends[a] === 1 && ends[b] === 1 && isShort(p, a, b, leastMm) && !left.has(`${a},${b}`);
  for (let isDone = false; !isDone; ) {
    isDone = true;
    for (const { triangles: t, leastMm } of near) {
      for (let i = 0; i < t.length; i++) {
        const next = i % 3 === 2 ? i - 2 : i + 1;
        const [keep, gone] = [Math.min(t[i], t[next]), Math.max(t[i], t[next])];
        if (!canJoin(keep, gone, leastMm)) continue;
        if (join(around, keep, gone)) isDone = false;
        else left.add(`${keep},${gone}`);
      }
    }
  }
}

/** A triangle of a run, by where its first corner is. */
interface Place {
  t: Uint32Array;
  at: number;
}

function trianglesAround(near: readonly NearRun[]): Map<number, Place[]> {
  const around = new Map<number, Place[]>();
  for (const { triangles: t } of near) {
    for (let i = 0; i < t.length; i++) {
      const place = { t, at: i - (i % 3) };
      const known = around.get(t[i]);
      if (known) known.push(place);
      else around.set(t[i], [place]);
    }
  }
  return around;
}

const isStanding = (t: Uint32Array, at: number): boolean => t[at] !== t[at + 1];

/** Puts one vertex in place of another that shares an edge with it; not where they have more neighbours in common than two. */
function join(around: Map<number, Place[]>, keep: number, gone: number): boolean {
  const placesOf = (v: number) => (around.get(v) ?? []).filter(({ t, at }) => isStanding(t, at));
  const [own, others] = [placesOf(keep), placesOf(gone)];
  const neighbours = (places: readonly Place[]) =>
    new Set(places.flatMap(({ t, at }) => [t[at], t[at + 1], t[at + 2]]));
  const [one, other] = [neighbours(own), neighbours(others)];
  const common = [...one].filter((v) => v !== keep && v !== gone && other.has(v));
  if (common.length !== 2) return false;
  for (const { t, at } of others) {
    const isGone = [t[at], t[at + 1], t[at + 2]].includes(keep);
    for (let k = at; k < at + 3; k++) if (isGone || t[k] === gone) t[k] = keep;
  }
  around.set(keep, [...own, ...others]);
  around.delete(gone);
  return true;
}

/** What of a run is not gone. */
function standing({ triangles: t }: NearRun): Uint32Array {
  const kept = new Uint32Array(t.length);
  let used = 0;
  for (let i = 0; i < t.length; i += 3) {
    if (!isStanding(t, i)) continue;
    kept.set(t.subarray(i, i + 3), used);
    used += 3;
  }
  return kept.slice(0, used);
}

/** Shorter than any edge between two places of single precision, mm. */
const NO_LENGTH = 1e-20;

/** The edges that are shorter than `leastMm`, from either side. */
function shortEdges(p: Float32Array, { triangles: t }: Patch, leastMm: number): [number, number][] {
  const short: [number, number][] = [];
  for (let i = 0; i < t.length; i += 3) {
    if (isShort(p, t[i], t[i + 1], leastMm)) short.push([t[i], t[i + 1]]);
    if (isShort(p, t[i + 1], t[i + 2], leastMm)) short.push([t[i + 1], t[i + 2]]);
    if (isShort(p, t[i + 2], t[i], leastMm)) short.push([t[i + 2], t[i]]);
  }
  return short;
}

function isShort(p: Float32Array, a: number, b: number, leastMm: number): boolean {
  const x = p[a * 3] - p[b * 3];
  const y = p[a * 3 + 1] - p[b * 3 + 1];
  const z = p[a * 3 + 2] - p[b * 3 + 2];
  return x * x + y * y + z * z < leastMm * leastMm;
}

/** Triangles with a corner that is marked, and the others. */
function partedAt(t: Uint32Array, isMarked: Uint8Array): { near: Uint32Array; far: Uint32Array } {
  const near: number[] = [];
  const far = new Uint32Array(t.length);
  let used = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [t[i], t[i + 1], t[i + 2]];
    if ((isMarked[a] | isMarked[b] | isMarked[c]) === 1) near.push(a, b, c);
    else {
      far[used++] = a;
      far[used++] = b;
      far[used++] = c;
    }
  }
  return { near: Uint32Array.from(near), far: far.slice(0, used) };
}
