import type { Manifold, ManifoldToplevel } from 'manifold-3d';
import type { Own } from '../../../../src/kernel/scope.ts';
import type { JobDocument } from '../generate.ts';
import { type Fault, fault } from './fault.ts';
import { type FoundJoint, leavesOf, reachOf } from './joints.ts';
import type { PartFile } from './part.ts';
import type { PlainPart } from './plain-parts.ts';
import { areaOf } from './triangle.ts';
import { dot, type Point, plus, times, unit } from './vectors.ts';

/** The kernel asked directly about what the files hold. `own` frees what is made there. */

/** A file's solid, or null where the kernel takes it for none. */
export function solidOf(kernel: ManifoldToplevel, own: Own, { places, corners }: PartFile): Manifold | null {
  const mesh = new kernel.Mesh({
    numProp: 3,
    vertProperties: Float32Array.from(places.flat()),
    triVerts: corners,
  });
  try {
    const solid = own(kernel.Manifold.ofMesh(mesh));
    return solid.status() === 'NoError' ? solid : null;
  } catch {
    return null;
  }
}

/** What rounding may make of surfaces that should be one, mm³. */
const slackOf = (...parts: readonly PartFile[]): number =>
  1e-3 + parts.reduce((sum, part) => sum + (part.stepMm + 2e-6) * areaOf(part.triangles), 0);

/** Parts that take the same space. */
export function overlapFaults(
  own: Own,
  job: JobDocument,
  parts: readonly PartFile[],
  solids: readonly (Manifold | null)[],
): Fault[] {
  return solids.flatMap((a, i) =>
    solids.slice(0, i).flatMap((b, j) => {
      const volume = a && b ? own(a.intersect(b)).volume() : 0;
      if (volume <= slackOf(parts[i], parts[j])) return [];
      const seams = [...seamsOf(job, parts[i]), ...seamsOf(job, parts[j])];
      return [fault('overlap', seams, `${parts[i].name} and ${parts[j].name} share ${volume} mm³`)];
    }),
  );
}

/** The seams that a part lies beside. */
const seamsOf = (job: JobDocument, part: PartFile): string[] =>
  leavesOf(job)
    .find(({ name }) => name === part.name)
    ?.way.map(({ seam }) => seam) ?? [];

/** Away from its joints every part is the figure's own piece. */
export function differenceFaults(
  kernel: ManifoldToplevel,
  own: Own,
  job: JobDocument,
  parts: readonly PartFile[],
  solids: readonly (Manifold | null)[],
  plain: ReadonlyMap<string, PlainPart>,
  joints: readonly FoundJoint[],
): Fault[] {
  const room = own(kernel.Manifold.union(joints.map((joint) => roomOf(kernel, own, joint))));
  return parts.flatMap((part, i) => {
    const [solid, piece] = [solids[i], plain.get(part.name)];
    if (!solid || !piece) return [];
    const more = own(own(solid.subtract(piece.solid)).subtract(room)).volume();
    const less = own(own(piece.solid.subtract(solid)).subtract(room)).volume();
    if (more + Math.max(0, less - piece.gapMm3) <= slackOf(part)) return [];
    return [
      fault('differs', seamsOf(job, part), `${part.name} has ${more} mm³ too much and ${less} too little`),
    ];
  });
}

/** A drum about all of a joint. */
function roomOf({ Manifold }: ManifoldToplevel, own: Own, { peg, foot, axis }: FoundJoint): Manifold {
  const radius = reachOf(peg) + 2 * peg.asked.sideGapMm + 0.05;
  const height = peg.lengthMm + peg.asked.endGapMm + 0.1;
  const drum = own(own(Manifold.cylinder(height, radius * 1.01, radius * 1.01, 48)).translate([0, 0, -0.05]));
  const other: Point = Math.abs(axis[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0];
  const x = unit(plus(other, times(axis, -dot(other, axis))));
  const y: Point = [
    axis[1] * x[2] - axis[2] * x[1],
    axis[2] * x[0] - axis[0] * x[2],
    axis[0] * x[1] - axis[1] * x[0],
  ];
  return own(drum.transform([...x, 0, ...y, 0, ...axis, 0, ...foot, 1]));
}
