import type { Mesh } from '../../mesh/mesh.ts';
import { borderOf } from '../../mesh/part/border.ts';

/**
 * The outlines of a mesh's holes: rings of vertices, in the turn in which a patch that closes the hole agrees with
 * the triangles round it. A walk along rims that comes back to a vertex has been round a hole, which is taken off:
 * holes that meet in a vertex come out one by one, and no outline meets a vertex twice.
 * Rims whose triangles disagree in turn end nowhere; such walks are left out.
 */
export function holeOutlines(mesh: Mesh): Uint32Array[] {
  const { edges } = borderOf(mesh);
  const onward = new Map<number, number[]>();
  // A patch runs along the rim against the triangle that is there.
  for (let i = 0; i < edges.length; i += 2) {
    const ways = onward.get(edges[i + 1]);
    if (ways) ways.push(edges[i]);
    else onward.set(edges[i + 1], [edges[i]]);
  }
  const outlines: Uint32Array[] = [];
  for (const start of onward.keys()) {
    while ((onward.get(start) as number[]).length > 0) walk(onward, start, outlines);
  }
  return outlines;
}

/** Walks on until there is no way, taking rings off the end of the path. */
function walk(onward: Map<number, number[]>, start: number, outlines: Uint32Array[]): void {
  const path = [start];
  const placeOf = new Map([[start, 0]]);
  for (;;) {
    const next = onward.get(path[path.length - 1])?.pop();
    if (next === undefined) return;
    const place = placeOf.get(next);
    if (place === undefined) {
      placeOf.set(next, path.push(next) - 1);
      continue;
    }
    const ring = path.splice(place + 1);
    for (const v of ring) placeOf.delete(v);
    outlines.push(Uint32Array.of(next, ...ring));
  }
}
