import { type Plane, type PlaneFrame, planeDistance } from '../math/plane.ts';
import { boxOfLoops, type LoopBox, regionArea } from '../math/polygon.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec3 } from '../math/vec3.ts';
import { coordinate, type Vertices } from '../mesh/part/vertices.ts';
import { pointsIn } from '../mesh/plane/outline.ts';
import { type Face, faceOf } from '../seam/face.ts';
import { liesWithin, loopGap } from './loop-gap.ts';
import { type Piece, rimIn } from './piece.ts';

/** What of a flat face is filled again around joints. */
export interface FaceAround {
  face: Face;
  /** The triangles that stay as they are. */
  rest: Uint32Array;
  /** How much the volume under the face may change by that, mm³: a face of a file is flat only to its rounding. */
  slackMm3: number;
}

/**
 * The triangles of a part's own flat face that joints' rims come to, as a face to be filled again in `frame`; the others
 * keep their corners. `own` is the plane the face lies in. All of them where what is left would not go around the rims.
 */
export function faceAround(
  vertices: Vertices,
  triangles: Uint32Array,
  frame: PlaneFrame,
  which: 'front' | 'back',
  own: Plane,
  pieces: readonly Piece[],
): FaceAround {
  const rims = pieces.map((piece) => rimIn(piece, frame));
  const boxes = rims.map((rim) => boxOfLoops([rim]));
  const near: number[] = [];
  const rest: number[] = [];
  for (let i = 0; i < triangles.length; i += 3) {
    const corners = triangles.subarray(i, i + 3);
    const box = boxOfLoops([pointsIn(frame, vertices, corners)]);
    (boxes.some((other) => doMeet(box, other)) ? near : rest).push(...corners);
  }
  const some = faceOf(vertices, Uint32Array.from(near), frame, which);
  const goesAround = rims.every(
    (rim) => liesWithin(rim, some.loops) && loopGap(rim, some.loops).mm > TOLERANCES.noWall,
  );
  const face = goesAround ? some : faceOf(vertices, triangles, frame, which);
  return {
    face,
    rest: Uint32Array.from(goesAround ? rest : []),
    slackMm3: regionArea(face.loops) * unevenness(vertices, goesAround ? near : triangles, own),
  };
}

/** How far apart the highest and the lowest corner are, seen from a plane, mm. */
function unevenness(vertices: Vertices, corners: ArrayLike<number>, plane: Plane): number {
  let [lowest, highest] = [0, 0];
  for (let i = 0; i < corners.length; i++) {
    const at: Vec3 = [0, 1, 2].map((k) => coordinate(vertices, corners[i], k)) as never;
    const height = planeDistance(plane, at);
    lowest = Math.min(lowest, height);
    highest = Math.max(highest, height);
  }
  return highest - lowest;
}

/** True where two boxes come nearer than a wall that counts as none. */
const doMeet = (a: LoopBox, b: LoopBox): boolean => {
  const reach = 2 * TOLERANCES.noWall;
  return a[0] <= b[2] + reach && b[0] <= a[2] + reach && a[1] <= b[3] + reach && b[1] <= a[3] + reach;
};
