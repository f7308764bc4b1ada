import type { Part, Patch } from '../../mesh/part/part.ts';

/**
 * The part with corners of `isOf` patches that lie nearer to each other than `leastMm` made one: where two surfaces cross beside a
 * corner of one of them, a boolean leaves edges that single precision hardly tells from nothing. An edge is left where
 * joining its ends would pinch the surface. All its vertices are its own (`added` has none), and stay.
 */
export function joinClose(part: Part, isOf: (patch: Patch) => boolean, leastMm: number): Part {
  let { patches } = part;
  const left = new Set<string>();
  for (;;) {
    const edge = shortEdge(part.positions, patches.filter(isOf), leastMm, left);
    if (edge === null) return patches === part.patches ? part : { ...part, patches };
    const joined = withJoined(patches, Math.min(...edge), Math.max(...edge));
    if (joined === null) left.add(edge.join());
    else patches = joined;
  }
}

/** The first edge that is shorter than `leastMm` and not to be left. */
function shortEdge(
  p: Float32Array,
  patches: readonly Patch[],
  leastMm: number,
  left: ReadonlySet<string>,
): [number, number] | null {
  for (const { triangles: t } of patches) {
    for (let i = 0; i < t.length; i++) {
      const a = t[i];
      const b = t[i % 3 === 2 ? i - 2 : i + 1];
      const x = p[a * 3] - p[b * 3];
      const y = p[a * 3 + 1] - p[b * 3 + 1];
      const z = p[a * 3 + 2] - p[b * 3 + 2];
      if (x * x + y * y + z * z < leastMm * leastMm && !left.has([a, b].join())) return [a, b];
    }
  }
  return null;
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
    const kept: number[] = [];
    for (let i = 0; i < triangles.length; i += 3) {
      const corners = [0, 1, 2].map((k) => (triangles[i + k] === gone ? keep : triangles[i + k]));
      if (new Set(corners).size === 3) kept.push(...corners);
    }
    return { of, triangles: Uint32Array.from(kept) };
  });
}
