import { PairTable } from '../mesh/topology/pair-table.ts';
import type { RawMesh } from './raw-mesh.ts';

/**
 * Every triangle into four through the middles of its edges. A middle is shared by the two triangles
 * at its edge, so a closed 2-manifold stays one. Old vertices keep their numbers; new ones follow.
 */
export function subdivide(mesh: RawMesh): RawMesh {
  const { positions: p, triangles: t } = mesh;
  const oldCount = p.length / 3;
  const edgeCount = t.length / 2;
  const positions = new Float64Array(p.length + edgeCount * 3);
  positions.set(p);
  const triangles = new Uint32Array(t.length * 4);
  const edges = new PairTable(edgeCount);
  const middle = (a: number, b: number): number => {
    const known = edges.count;
    const edge = a < b ? edges.number(a, b) : edges.number(b, a);
    const v = oldCount + edge;
    if (edge === known) {
      for (let k = 0; k < 3; k++) positions[v * 3 + k] = (p[a * 3 + k] + p[b * 3 + k]) / 2;
    }
    return v;
  };
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [t[i], t[i + 1], t[i + 2]];
    const ab = middle(a, b);
    const bc = middle(b, c);
    const ca = middle(c, a);
    triangles.set([a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca], i * 4);
  }
  return { positions, triangles };
}
