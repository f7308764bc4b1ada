import type { FaceResult, PegResult, ResolvedPeg, SeamResult } from './engine.ts';
import { type LiveWall, measureLiveWall } from './nearest-between.ts';
import { isSameShape, type PegShape, pegShape, roundedRectangle } from './peg-shape.ts';

/** A peg ready to be drawn in the face's frame. */
export interface DrawnPeg {
  index: number;
  shape: PegShape;
  peg: Float64Array;
  socket: Float64Array;
  wall: LiveWall | null;
  /** Drawn from its sizes, ahead of the engine. */
  provisional: boolean;
}

/** The engine's own outlines. */
function measuredPeg(index: number, shape: PegShape, result: PegResult): DrawnPeg {
  const wall = result.faceWall;
  return {
    index,
    shape,
    peg: result.pegOutline,
    socket: result.socketOutline,
    wall: wall && { ...wall, broken: wall.mm <= 0 },
    provisional: false,
  };
}

/** The outlines that follow from the sizes alone, with the wall they leave. */
export function provisionalPeg(index: number, shape: PegShape, outlines: readonly Float64Array[]): DrawnPeg {
  const socket = roundedRectangle(shape, shape.socketOffsetMm);
  return {
    index,
    shape,
    peg: roundedRectangle(shape),
    socket,
    wall: measureLiveWall(socket, outlines),
    provisional: true,
  };
}

/** The engine's outlines where they are of the peg as it stands now, its own drawing otherwise. */
export function drawnPegs(
  seam: SeamResult,
  pegs: readonly (ResolvedPeg | null)[],
  face: FaceResult,
  changing: { index: number; shape: PegShape } | null,
): DrawnPeg[] {
  const drawn: DrawnPeg[] = [];
  pegs.forEach((peg, index) => {
    if (!peg) return;
    if (changing?.index === index) {
      drawn.push(provisionalPeg(index, changing.shape, face.outlines));
      return;
    }
    const shape = pegShape(peg, face.frame);
    const result = face === seam ? seam.pegs.find((p) => p.index === index) : undefined;
    const fresh = result && isSameShape(pegShape(result.peg, face.frame), shape);
    drawn.push(fresh ? measuredPeg(index, shape, result) : provisionalPeg(index, shape, face.outlines));
  });
  return drawn;
}
