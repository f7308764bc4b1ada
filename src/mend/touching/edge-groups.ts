import type { Mesh } from '../../mesh/mesh.ts';
import { edgeFans } from '../../mesh/topology/edges.ts';

/**
 * The half-edges of a mesh gathered by edge. Half-edge h runs from corner h of `triangles` to the triangle's next
 * corner; group g holds `halves[starts[g]]` up to `halves[starts[g + 1]]`, whichever way they run.
 * Triangles with two equal corners take no part.
 */
export interface EdgeGroups {
  starts: Uint32Array;
  halves: Uint32Array;
}

/** The next half-edge in the same triangle. */
export const nextHalf = (h: number): number => (h % 3 === 2 ? h - 2 : h + 1);

export function groupEdges(mesh: Mesh): EdgeGroups {
  const { triangles: t } = mesh;
  const { starts: fans, far, who } = edgeFans(mesh);
  const vertices = mesh.positions.length / 3;
  const groupOf = new Uint32Array(far.length);
  /** One more than the group last opened towards a vertex; groups of earlier fans are below `base`. */
  const seen = new Uint32Array(vertices);
  const sizes = new Uint32Array(far.length + 1);
  let groups = 0;
  for (let v = 0; v < vertices; v++) {
    const base = groups;
    for (let i = fans[v]; i < fans[v + 1]; i++) {
      if (seen[far[i]] <= base) seen[far[i]] = ++groups;
      groupOf[i] = seen[far[i]] - 1;
      sizes[groupOf[i] + 1]++;
    }
  }
  const starts = sizes.subarray(0, groups + 1);
  for (let g = 0; g < groups; g++) starts[g + 1] += starts[g];
  const next = starts.slice();
  const halves = new Uint32Array(far.length);
  for (let v = 0; v < vertices; v++) {
    for (let i = fans[v]; i < fans[v + 1]; i++) {
      const base = (who[i] >>> 1) * 3;
      const from = (who[i] & 1) === 0 ? v : far[i];
      const corner = t[base] === from ? 0 : t[base + 1] === from ? 1 : 2;
      halves[next[groupOf[i]]++] = base + corner;
    }
  }
  return { starts, halves };
}
