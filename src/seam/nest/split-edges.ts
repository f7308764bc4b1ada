import type { Patch } from '../../mesh/part/part.ts';
import { PairTable } from '../../mesh/topology/pair-table.ts';

/**
 * Patches with edges of `of` halved, those that `isLong` names, in whatever triangles have them; null where it names none.
 * The middle of the n-th edge in `edges` is the vertex `first` + n.
 */
export function splitEdges(
  patches: readonly Patch[],
  of: readonly Uint32Array[],
  first: number,
  isLong: (a: number, b: number) => boolean,
): { patches: Patch[]; edges: PairTable } | null {
  const edges = new PairTable(64);
  for (const triangles of of) {
    for (let i = 0; i < triangles.length; i++) {
      const a = triangles[i];
      const b = triangles[i % 3 === 2 ? i - 2 : i + 1];
      if (a < b && isLong(a, b)) edges.number(a, b);
      else if (a > b && edges.find(b, a) < 0 && isLong(b, a)) edges.number(b, a);
    }
  }
  if (edges.count === 0) return null;
  const middle = (a: number, b: number) => {
    const edge = edges.find(Math.min(a, b), Math.max(a, b));
    return edge < 0 ? null : first + edge;
  };
  return { patches: patches.map((patch) => withMiddles(patch, middle)), edges };
}

/** The patch's triangles divided at the middles that its edges have; itself where there are none. */
function withMiddles({ of, triangles }: Patch, middle: (a: number, b: number) => number | null): Patch {
  const divided: number[] = [];
  let isDivided = false;
  for (let i = 0; i < triangles.length; i += 3) {
    const corners = [triangles[i], triangles[i + 1], triangles[i + 2]];
    const middles = corners.map((v, k) => middle(v, corners[(k + 1) % 3]));
    isDivided ||= middles.some((m) => m !== null);
    divided.push(...divide(corners, middles));
  }
  return isDivided ? { of, triangles: Uint32Array.from(divided) } : { of, triangles };
}

/** A triangle's pieces; `middles` are those of its sides, the first from its first corner to its second. */
function divide(corners: readonly number[], middles: readonly (number | null)[]): number[] {
  const count = middles.filter((m) => m !== null).length;
  // Turned so that the sides with middles come first, or the one without comes last.
  const turn =
    count === 2
      ? (middles.indexOf(null) + 1) % 3
      : Math.max(
          0,
          middles.findIndex((m) => m !== null),
        );
  const [a, b, c] = [0, 1, 2].map((k) => corners[(turn + k) % 3]);
  const [ab, bc, ca] = [0, 1, 2].map((k) => middles[(turn + k) % 3] as number);
  if (count === 0) return [a, b, c];
  if (count === 1) return [a, ab, c, ab, b, c];
  if (count === 2) return [ab, b, bc, a, ab, bc, a, bc, c];
  return [a, ab, ca, ab, b, bc, bc, c, ca, ab, bc, ca];
}
