import type { Vec3 } from '../../math/vec3.ts';
import { type Three, trianglesCross } from '../../mend/report/crossing.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { forEachNear } from '../../mesh/near/near-triangles.ts';

/** A corner of the first of some of a mesh's triangles that crosses another one of it; null where none does. mm. */
export function crossingAt(mesh: Mesh, some: Uint32Array): Vec3 | null {
  const { positions: p, triangles: t } = mesh;
  const box = new Float64Array(6);
  for (let i = 0; i < some.length; i += 3) {
    const one: Three = [some[i] * 3, some[i + 1] * 3, some[i + 2] * 3];
    for (let k = 0; k < 3; k++) {
      box[k] = Math.min(p[one[0] + k], p[one[1] + k], p[one[2] + k]);
      box[k + 3] = Math.max(p[one[0] + k], p[one[1] + k], p[one[2] + k]);
    }
    let crosses = false;
    forEachNear(mesh, box, (j) => {
      crosses ||= trianglesCross(p, one, [t[j] * 3, t[j + 1] * 3, t[j + 2] * 3]);
    });
    if (crosses) return [p[one[0]], p[one[0] + 1], p[one[0] + 2]];
  }
  return null;
}
