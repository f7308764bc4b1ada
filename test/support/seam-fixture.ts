import { jointKind } from '../../src/joint/kinds.ts';
import type { BodySpec } from '../../src/joint/parallel-body.ts';
import { type JointSeat, makePiece, type Piece } from '../../src/joint/piece.ts';
import type { Kernel } from '../../src/kernel/load.ts';
import { fromFrame, plane } from '../../src/math/plane.ts';
import { loopArea } from '../../src/math/polygon.ts';
import type { Vec2, Vec3 } from '../../src/math/vec3.ts';
import { measureMesh } from '../../src/mesh/measure.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { compactMesh, meshOf, type Part, partOf } from '../../src/mesh/part/part.ts';
import { auditMesh } from '../../src/mesh/topology/audit.ts';
import type { JointShape, SettledJoint } from '../../src/model/joint.ts';
import { type Cut, cutPart, findFace } from '../../src/seam/cut.ts';
import type { Face } from '../../src/seam/face.ts';

/** A figure cut once, with the face of both sides at hand. */
export interface Fixture {
  cut: Cut;
  front: { part: Part; face: Face };
  back: { part: Part; face: Face };
}

export const SEAM = 'seam';

/** Cuts a figure by the plane through `point`; null where a side stays empty. */
export function cutFigure(kernel: Kernel, mesh: Mesh, normal: Vec3, offset: number): Fixture | null {
  const cut = cutPart(kernel, partOf(mesh), plane(normal, offset), SEAM, [0, 0, 0]);
  const front = findFace(cut.front, SEAM, 0, cut.facets[0].frame, 'front');
  const back = findFace(cut.back, SEAM, 0, cut.facets[0].frame, 'back');
  if (!front || !back) return null;
  return { cut, front: { part: cut.front, face: front }, back: { part: cut.back, face: back } };
}

export const faceArea = (face: Face): number => face.loops.reduce((sum, loop) => sum + loopArea(loop), 0);

/** A peg's sizes, the defaults those of a small resin peg. */
export const pegOf = (sizes: Partial<SettledJoint> = {}): SettledJoint =>
  ({
    id: 'a',
    kind: 'taper',
    at: [0, 0, 0],
    widthMm: 4,
    heightMm: 4,
    lengthMm: 4,
    draftDeg: 6,
    edgeRadiusMm: 0.5,
    spinDeg: 0,
    sideGapMm: 0.12,
    endGapMm: 0.4,
    ...sizes,
  }) as SettledJoint;

/** The two bodies of a tapered peg's kind, cut off at `bottom`: 0 at the face, below it for a root. */
export function bodiesOf(shape: JointShape, bottom = 0): { peg: BodySpec; socket: BodySpec } {
  const [added, taken] = jointKind(shape.kind).pieces(shape);
  return { peg: { ...added.body, bottom }, socket: { ...taken.body, bottom } };
}

/** A peg and its socket with their foot at `at` of the seam's frame. */
export function jointsAt(
  cut: Cut,
  at: Vec2,
  peg: SettledJoint,
  pegOn: 'front' | 'back' = 'back',
  jointId = peg.id,
): { peg: Piece; socket: Piece } {
  const seat: JointSeat = {
    seamId: SEAM,
    facet: 0,
    jointId,
    pegOn,
    frame: cut.facets[0].frame,
    foot: fromFrame(cut.facets[0].frame, at),
    spinDeg: peg.spinDeg ?? 0,
  };
  const [added, taken] = jointKind(peg.kind).pieces(peg);
  return { peg: makePiece(seat, added), socket: makePiece(seat, taken) };
}

/** Every edge of the part shared by two triangles that run through it opposite ways, and nothing twice. */
export function isSound(part: Part): boolean {
  const audit = auditMesh(compactMesh(meshOf(part)));
  return (
    audit.openEdges === 0 &&
    audit.nonManifoldEdges === 0 &&
    audit.windingErrors === 0 &&
    audit.duplicateTriangles === 0 &&
    audit.pointedTriangles.length === 0
  );
}

export const volumeOf = (part: Part): number =>
  part.patches.length === 0 ? 0 : measureMesh(meshOf(part)).volumeMm3;

/** Greatest coordinate by size, mm: what float rounding goes by. */
export const reachOf = ({ positions }: { positions: Float32Array }): number =>
  positions.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
