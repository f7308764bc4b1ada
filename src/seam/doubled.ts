import { edgeKey } from '../mesh/edges.ts';
import type { Ring } from '../mesh/outline.ts';
import type { Part } from '../mesh/part.ts';
import type { Trace } from '../mesh/trace.ts';

/**
 * True where the face would share an edge inside it with the skin (the plane meets a hollow edge from
 * outside), or has a triangle with two equal corners: edges of more than two triangles would come of it.
 * `cap` indexes the rings' points one after the other.
 */
export function isDoubled(part: Part, trace: Trace, rings: readonly Ring[], cap: Uint32Array): boolean {
  const ids = rings.flatMap((ring) => [...ring]);
  const outline = new Set<number>();
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i++) outline.add(eitherWay(ring[i], ring[(i + 1) % ring.length]));
  }
  const inside = new Set<number>();
  for (let i = 0; i < cap.length; i++) {
    const a = ids[cap[i]];
    const b = ids[cap[i % 3 === 2 ? i - 2 : i + 1]];
    if (a === b) return true;
    if (a < trace.vertexCount && b < trace.vertexCount && !outline.has(eitherWay(a, b)))
      inside.add(eitherWay(a, b));
  }
  return inside.size > 0 && part.patches.some(({ triangles }, run) => hasEdge(triangles, trace, run, inside));
}

const eitherWay = (a: number, b: number): number => edgeKey(Math.min(a, b), Math.max(a, b));

/** True when a triangle that touches the plane has one of the edges. */
function hasEdge(t: Uint32Array, { side, runs }: Trace, run: number, edges: ReadonlySet<number>): boolean {
  for (const i of runs[run].mixed) {
    for (let k = 0; k < 3; k++) {
      const a = t[i + k];
      const b = t[i + ((k + 1) % 3)];
      if (side[a] === 0 && side[b] === 0 && edges.has(eitherWay(a, b))) return true;
    }
  }
  return false;
}
