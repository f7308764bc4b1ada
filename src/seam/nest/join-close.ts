import { joinIndices } from '../../mesh/part/join-indices.ts';
import type { Part, Patch } from '../../mesh/part/part.ts';

/**
 * The part with edges of `isOf` patches that are shorter than `leastMm` taken out, and of the others those of no length at
 * all, their ends made one: where two surfaces cross beside a corner of one of them, a boolean leaves edges that single
 * precision hardly tells from nothing. What a file has of its own is longer than nothing, and stays. An edge is
 * left where joining its ends would pinch the surface. All its vertices are its own (`added` has none), and stay.
 */
export function joinClose(part: Part, isOf: (patch: Patch) => boolean, leastMm: number): Part {
  const short = (patches: readonly Patch[]) =>
    patches.flatMap((patch) => shortEdges(part.positions, patch, isOf(patch) ? leastMm : NO_LENGTH));
  const all = short(part.patches);
  if (all.length === 0) return part;
  const ends = new Uint8Array(part.positions.length / 3);
  for (const [a, b] of all) ends[a] = ends[b] = 1;
  const far: Uint32Array[] = [];
  let near = part.patches.map(({ of, triangles }): Patch => {
    const parted = partedAt(triangles, ends);
    far.push(parted.far);
    return { of, triangles: parted.near };
  });
  // Around their ends all triangles are here: what is joined there is seen whole.
  const left = new Set<string>();
  for (;;) {
    const edge = short(near).find((one) => one.every((v) => ends[v] === 1) && !left.has(one.join()));
    if (edge === undefined) break;
    const joined = withJoined(near, Math.min(...edge), Math.max(...edge));
    if (joined === null) left.add(edge.join());
    else near = joined;
  }
  const patches = near.map(
    ({ of, triangles }, i): Patch => ({ of, triangles: joinIndices([far[i], triangles]) }),
  );
  return { ...part, patches };
}

/** Shorter than any edge between two places of single precision, mm. */
const NO_LENGTH = 1e-20;

/** The edges that are shorter than `leastMm`, from either side. */
function shortEdges(p: Float32Array, { triangles: t }: Patch, leastMm: number): [number, number][] {
  const short: [number, number][] = [];
  const least = leastMm * leastMm;
  const holdEdge = (a: number, b: number) => {
    const x = p[a * 3] - p[b * 3];
    const y = p[a * 3 + 1] - p[b * 3 + 1];
    const z = p[a * 3 + 2] - p[b * 3 + 2];
    if (x * x + y * y + z * z < least) short.push([a, b]);
  };
  for (let i = 0; i < t.length; i += 3) {
    holdEdge(t[i], t[i + 1]);
    holdEdge(t[i + 1], t[i + 2]);
    holdEdge(t[i + 2], t[i]);
  }
  return short;
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

/** Patches with one vertex in place of another that shares an edge with it; null where they have more neighbours in common than two. */
function withJoined(patches: readonly Patch[], keep: number, gone: number): Patch[] | null {
  const around = (v: number) => {
    const others = new Set<number>();
    for (const { triangles: t } of patches) {
      for (let i = 0; i < t.length; i += 3)
        if (t[i] === v || t[i + 1] === v || t[i + 2] === v)
          others
            .add(t[i])
            .add(t[i + 1])
            .add(t[i + 2]);
    }
    return others;
  };
  const [one, other] = [around(keep), around(gone)];
  const common = [...one].filter((v) => v !== keep && v !== gone && other.has(v));
  if (common.length !== 2) return null;
  return patches.map((patch) => {
    const { of, triangles } = patch;
    if (!triangles.includes(gone)) return patch;
    const kept = new Uint32Array(triangles.length);
    let used = 0;
    for (let i = 0; i < triangles.length; i += 3) {
      for (let k = 0; k < 3; k++) kept[used + k] = triangles[i + k] === gone ? keep : triangles[i + k];
      const [a, b, c] = [kept[used], kept[used + 1], kept[used + 2]];
      if (a !== b && b !== c && c !== a) used += 3;
    }
    return { of, triangles: kept.slice(0, used) };
  });
}
