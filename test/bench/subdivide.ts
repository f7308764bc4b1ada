import type { Mesh } from '../../src/mesh/mesh.ts';
import { PairTable } from '../../src/mesh/pair-table.ts';

/** Every triangle divided into four at the middles of its edges. */
export function subdivided({ positions, triangles }: Mesh): Mesh {
  const own = positions.length / 3;
  const edges = new PairTable((triangles.length / 3) * 1.5);
  const middle = (a: number, b: number) => own + edges.number(Math.min(a, b), Math.max(a, b));
  const divided = new Uint32Array(triangles.length * 4);
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = triangles.subarray(i, i + 3);
    const [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
    divided.set([a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca], i * 4);
  }
  const grown = new Float32Array((own + edges.count) * 3);
  grown.set(positions);
  for (let e = 0; e < edges.count; e++) {
    for (let k = 0; k < 3; k++) {
      grown[(own + e) * 3 + k] = (positions[edges.first(e) * 3 + k] + positions[edges.second(e) * 3 + k]) / 2;
    }
  }
  return { positions: grown, triangles: divided };
}
