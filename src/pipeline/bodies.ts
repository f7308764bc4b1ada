import { planeFrame } from '../math/plane.ts';
import type { Vec3 } from '../math/vec3.ts';
import { bodiesOf } from '../mend/bodies.ts';
import { type Shell, shellsOf } from '../mend/shells/shell-parts.ts';
import { type Bounds, boundsOf } from '../mesh/measure.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { rayHits } from '../mesh/near/ray-hits.ts';
import { compactMesh, type Part, partOf } from '../mesh/part/part.ts';
import { coordinate } from '../mesh/part/vertices.ts';
import type { Sculpt } from './sculpt.ts';

/** A closed solid of a sculpt, with all that is hollow in it. */
export interface SculptBody {
  /** '' where the file gives it none. */
  name: string;
  part: Part;
  /** Recentred mm. */
  bounds: Bounds;
}

const known = new WeakMap<Sculpt, SculptBody[]>();

/**
 * The bodies of a sculpt: those its file tells apart, else its shells, each hollow with the shell around it. Kept as long
 * as the sculpt is.
 */
export function bodiesIn(sculpt: Sculpt): SculptBody[] {
  let bodies = known.get(sculpt);
  if (!bodies) {
    bodies = findBodies(sculpt).map(({ name, mesh }) => ({
      name,
      part: partOf(mesh),
      bounds: boundsOf(mesh),
    }));
    known.set(sculpt, bodies);
  }
  return bodies;
}

function findBodies({ mesh, audit, bodies }: Sculpt): { name: string; mesh: Mesh }[] {
  if (bodies.length > 1) return bodiesOf(mesh, bodies);
  const name = bodies[0]?.name ?? '';
  if (audit.shellCount < 2) return [{ name, mesh }];
  const shells = shellsOf(mesh, audit);
  const outer = shells.filter(({ volumeMm3 }) => volumeMm3 > 0);
  if (outer.length < 2) return [{ name, mesh }];
  const hollows = new Map<Shell, Shell[]>(outer.map((shell) => [shell, []]));
  for (const hollow of shells.filter(({ volumeMm3 }) => volumeMm3 <= 0))
    hollows.get(around(hollow, outer) ?? outer[0])?.push(hollow);
  return [...hollows].map(([shell, own]) => ({ name: '', mesh: gathered(mesh, [shell, ...own]) }));
}

/** The shells' triangles in the order they have in the mesh, over the vertices they use. */
function gathered(mesh: Mesh, shells: readonly Shell[]): Mesh {
  const ids = shells.flatMap(({ ids: own }) => [...own]).sort((a, b) => a - b);
  const triangles = new Uint32Array(ids.length * 3);
  ids.forEach((id, i) => {
    triangles.set(mesh.triangles.subarray(id * 3, id * 3 + 3), i * 3);
  });
  const { positions, triangles: own } = compactMesh({ positions: mesh.positions, triangles });
  return { positions, triangles: own };
}

/** The least of the shells that a ray from within a hollow leaves more often than it enters; null where none is. */
function around(hollow: Shell, outer: readonly Shell[]): Shell | null {
  const vertices = partOf(hollow.mesh);
  const v = hollow.mesh.triangles[0];
  const from: Vec3 = [0, 1, 2].map((k) => coordinate(vertices, v, k)) as never;
  const frame = planeFrame({ normal: [0, 0, 1], offset: 0 });
  const holds = ({ mesh }: Shell) => {
    const hits = rayHits(partOf(mesh), [mesh.triangles], from, frame, 1);
    return hits.reduce((depth, { leaves }) => depth + (leaves ? 1 : -1), 0) > 0;
  };
  const holding = outer.filter(holds);
  return holding.length === 0 ? null : holding.reduce((a, b) => (b.volumeMm3 < a.volumeMm3 ? b : a));
}
