import type { RawBody } from '../io/raw-mesh.ts';
import { planeFrame } from '../math/plane.ts';
import type { Vec3 } from '../math/vec3.ts';
import { bodiesOf } from '../mend/bodies.ts';
import { type Shell, shellsOf } from '../mend/shells/shell-parts.ts';
import { type Bounds, boundsOf } from '../mesh/measure.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { rayHits } from '../mesh/near/ray-hits.ts';
import { joinIndices } from '../mesh/part/join-indices.ts';
import { compactMesh, type Part, partOf } from '../mesh/part/part.ts';
import { coordinate } from '../mesh/part/vertices.ts';
import { bodyName } from '../model/part-ref.ts';
import type { Sculpt } from './sculpt.ts';

/** A closed solid of a sculpt, with all that is hollow in it. */
export interface SculptBody {
  /** From 1. */
  number: number;
  /** '' where the file gives it none. */
  name: string;
  /** Numbers of its shells, by the sculpt's audit. */
  shells: readonly number[];
  /** Recentred mm. */
  bounds: Bounds;
  /** Made when it is first asked for: most figures are divided as a whole. */
  readonly part: Part;
}

const known = new WeakMap<Sculpt, SculptBody[]>();

/**
 * The bodies of a sculpt: those its file tells apart, else its shells, each hollow with the shell around it. Kept as long
 * as the sculpt is.
 */
export function bodiesIn(sculpt: Sculpt): SculptBody[] {
  let bodies = known.get(sculpt);
  if (!bodies) {
    bodies = findBodies(sculpt);
    known.set(sculpt, bodies);
  }
  return bodies;
}

/** What a body is called as a part of its sculpt. */
export const calledIn = (sculptName: string, { name, number }: SculptBody): string =>
  name || bodyName(`${number}`, sculptName);

function findBodies({ mesh, audit, bodies }: Sculpt): SculptBody[] {
  if (bodies.length > 1) {
    const runs = shellsInRuns(audit.shellOf, bodies);
    return bodiesOf(mesh, bodies).map(({ name, mesh: own }, i) =>
      bodyOf(i, name, runs[i], boundsOf(own), () => own),
    );
  }
  const all = Array.from({ length: audit.shellCount }, (_, shell) => shell);
  const whole = () => [bodyOf(0, bodies[0]?.name ?? '', all, boundsOf(mesh), () => mesh)];
  if (audit.shellCount < 2) return whole();
  const shells = shellsOf(mesh, audit);
  const outer = shells.filter(({ volumeMm3 }) => volumeMm3 > 0);
  if (outer.length < 2) return whole();
  const hollows = new Map<Shell, Shell[]>(outer.map((shell) => [shell, []]));
  for (const hollow of shells.filter(({ volumeMm3 }) => volumeMm3 <= 0))
    hollows.get(around(hollow, outer) ?? outer[0])?.push(hollow);
  // What is hollow in a shell lies within its box.
  return [...hollows].map(([shell, own], i) => {
    const numbers = [shell, ...own].map((one) => shells.indexOf(one));
    return bodyOf(i, '', numbers, shell.bounds, () => gathered(mesh, [shell, ...own]));
  });
}

/** The numbers of the shells in each run of triangles. */
function shellsInRuns(shellOf: Uint32Array, runs: readonly RawBody[]): number[][] {
  let from = 0;
  return runs.map(({ triangleCount }) => {
    const found = new Set(shellOf.subarray(from, from + triangleCount));
    from += triangleCount;
    return [...found];
  });
}

function bodyOf(
  place: number,
  name: string,
  shells: readonly number[],
  bounds: Bounds,
  meshOf: () => Mesh,
): SculptBody {
  let made: Part | null = null;
  return {
    number: place + 1,
    name,
    shells,
    bounds,
    get part() {
      made ??= partOf(meshOf());
      return made;
    },
  };
}

/** The shells' triangles in the order they have in the mesh, over the vertices they use. */
function gathered({ positions, triangles: all }: Mesh, shells: readonly Shell[]): Mesh {
  const ids = joinIndices(shells.map((shell) => shell.ids)).sort();
  const triangles = new Uint32Array(ids.length * 3);
  for (let i = 0; i < ids.length; i++) {
    for (let k = 0; k < 3; k++) triangles[i * 3 + k] = all[ids[i] * 3 + k];
  }
  const { positions: used, triangles: own } = compactMesh({ positions, triangles });
  return { positions: used, triangles: own };
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
