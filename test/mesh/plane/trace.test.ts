import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildHeron } from '../../../src/demo/heron.ts';
import { plane } from '../../../src/math/plane.ts';
import { coordinate, NOTHING_ADDED } from '../../../src/mesh/part/vertices.ts';
import { crossPlane } from '../../../src/mesh/plane/cross-plane.ts';
import { tracePlane } from '../../../src/mesh/plane/trace.ts';

const heron = buildHeron({ triangles: 20_000 });
const vertices = { positions: heron.positions, added: NOTHING_ADDED };
const runs = [heron.triangles];

/** Edges by the coordinates of their ends, so that the numbering of cut vertices does not matter. */
function edgeKeys(crossing: ReturnType<typeof crossPlane>): string[] {
  const at = (id: number) => {
    return [0, 1, 2].map((axis) => coordinate(crossing.vertices, id, axis)).join();
  };
  const keys: string[] = [];
  for (let i = 0; i < crossing.edges.length; i += 2) {
    keys.push(`${at(crossing.edges[i])}>${at(crossing.edges[i + 1])}`);
  }
  return keys.sort();
}

describe('a plane through a figure', () => {
  it('crosses the same edges whether all triangles are looked at or only the blocks it passes, seed 41', () => {
    const component = fc.double({ min: -1, max: 1, noNaN: true });
    const direction = fc.tuple(component, component, component).filter((n) => Math.hypot(...n) > 0.01);
    let crossed = 0;
    fc.assert(
      fc.property(direction, fc.double({ min: 0, max: 1, noNaN: true }), (normal, share) => {
        // A vertex of the figure lies on the plane: the hardest place to tell sides apart.
        const v = Math.floor(share * (heron.positions.length / 3 - 1)) * 3;
        const [x, y, z] = heron.positions.subarray(v, v + 3);
        const l = Math.hypot(...normal);
        const cutting = plane(normal, (normal[0] * x + normal[1] * y + normal[2] * z) / l);
        const all = edgeKeys(tracePlane(vertices, runs, cutting));
        expect(edgeKeys(crossPlane(vertices, runs, cutting))).toEqual(all);
        crossed += all.length;
      }),
      { seed: 41, numRuns: 60 },
    );
    expect(crossed).toBeGreaterThan(5000);
  });
});
