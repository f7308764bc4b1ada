import { type Three, trianglesPierce } from '../../mend/report/crossing.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { blocksOf } from '../../mesh/near/blocks.ts';
import { blocksBeside } from '../../mesh/near/blocks-beside.ts';
import { forEachNear } from '../../mesh/near/near-triangles.ts';
import { joinIndices } from '../../mesh/part/join-indices.ts';
import { compactMesh, type Part } from '../../mesh/part/part.ts';
import { allPositions } from '../../mesh/part/vertices.ts';

/** True where the surfaces of two parts pass through each other: looked for where blocks of both meet. */
export function doCross(a: Part, b: Part): boolean {
  const [one, other] = [nearOf(a, b), nearOf(b, a)];
  const first = one.positions.length / 3;
  const positions = new Float32Array(one.positions.length + other.positions.length);
  positions.set(one.positions);
  positions.set(other.positions, one.positions.length);
  const others: Mesh = { positions, triangles: other.triangles.map((v) => v + first) };
  const box = new Float64Array(6);
  let crosses = false;
  for (let i = 0; i < one.triangles.length && !crosses; i += 3) {
    const three = cornersAt(one.triangles, i);
    for (let k = 0; k < 3; k++) {
      box[k] = Math.min(...three.map((corner) => positions[corner + k]));
      box[k + 3] = Math.max(...three.map((corner) => positions[corner + k]));
    }
    forEachNear(others, box, (j) => {
      crosses ||= trianglesPierce(positions, three, cornersAt(others.triangles, j));
    });
  }
  return crosses;
}

const cornersAt = (triangles: Uint32Array, i: number): Three => [
  triangles[i] * 3,
  triangles[i + 1] * 3,
  triangles[i + 2] * 3,
];

/** The triangles of a part in blocks that meet blocks of another. */
function nearOf(part: Part, other: Part): Mesh {
  const others = other.patches.map(({ triangles }) => blocksOf(other, triangles));
  const near = part.patches.flatMap(({ triangles }) => {
    const tree = blocksOf(part, triangles);
    return blocksBeside(tree, others, 0).map((b) => triangles.subarray(tree.starts[b], tree.starts[b + 1]));
  });
  return compactMesh({ positions: allPositions(part), triangles: joinIndices(near) });
}
