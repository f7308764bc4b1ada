import { isSame } from '../state/is-same.ts';
import type { KnownJoint } from '../state/settled-joints.ts';
import type { FaceResult, JointResult, Side } from './engine.ts';
import { type LiveWall, measureLiveWall } from './nearest-between.ts';
import { isSameShape, outlinesOf, type PegShape, pegShape } from './peg-shape.ts';

/** A peg ready to be drawn in the face's frame. */
export interface DrawnPeg {
  id: string;
  /** Its place among those of its seam, from 0. */
  index: number;
  shape: PegShape;
  peg: Float64Array;
  socket: Float64Array;
  wall: LiveWall | null;
}

/** With the wall that the engine measured. */
function measuredPeg(id: string, index: number, shape: PegShape, result: JointResult): DrawnPeg {
  const wall = result.faceWall;
  return {
    id,
    index,
    shape,
    ...outlinesOf(shape),
    wall: wall && { ...wall, broken: wall.mm <= 0 },
  };
}

/** With the wall that follows from the sizes alone. */
export function provisionalPeg(
  id: string,
  index: number,
  shape: PegShape,
  outlines: readonly Float64Array[],
): DrawnPeg {
  const { peg, socket } = outlinesOf(shape);
  return {
    id,
    index,
    shape,
    peg,
    socket,
    wall: measureLiveWall(socket, outlines),
  };
}

/** Joints with the wall the engine measured where that is of the joint as it stands now, else as their sizes have it. */
export function drawnPegs(
  measured: readonly JointResult[],
  pegOn: Side,
  joints: readonly KnownJoint[],
  face: FaceResult,
  changing: { id: string; shape: PegShape } | null,
): DrawnPeg[] {
  return joints.flatMap(({ id, settled }, index): DrawnPeg[] => {
    if (!settled) return [];
    if (changing?.id === id) return [provisionalPeg(id, index, changing.shape, face.outlines)];
    const shape = pegShape(settled, face.frame, pegOn);
    const result = measured.find((one) => one.settled.id === id);
    const isFresh = result && isSameShape(pegShape(result.settled, face.frame, pegOn), shape);
    return [
      isFresh ? measuredPeg(id, index, shape, result) : provisionalPeg(id, index, shape, face.outlines),
    ];
  });
}

/** The pegs of which those that are drawn as before are the ones from before, so that they are not drawn anew. */
export const withUnmoved = (before: readonly DrawnPeg[], drawn: readonly DrawnPeg[]): readonly DrawnPeg[] =>
  drawn.map((peg, i) => (before[i] && isDrawnAlike(before[i], peg) ? before[i] : peg));

const isDrawnAlike = (a: DrawnPeg, b: DrawnPeg): boolean =>
  a.id === b.id && a.index === b.index && isSameShape(a.shape, b.shape) && isSame(a.wall, b.wall);
