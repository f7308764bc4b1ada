import type { Loop } from '../math/polygon.ts';
import type { Vec2 } from '../math/vec3.ts';
import type { JointShape } from '../model/joint.ts';
import { otherSide, type Side } from '../model/part-ref.ts';
import { pointsBack } from './kind.ts';
import { jointKind } from './kinds.ts';
import { ofLate } from './of-late.ts';
import { endOf, faceOutlineOf } from './parallel-body.ts';

/** What a piece of a joint covers of the face. */
export interface PieceOutline {
  does: 'add' | 'take';
  /** In the seam's frame: flat x, y pairs, mm, closed, counter-clockwise seen from the front. */
  outline: Loop;
}

/** What a joint's pieces cover of the face where its foot is at `at` (mm in the seam's frame). */
export function outlinesOnFace(shape: JointShape, at: Vec2, pegOn: Side): PieceOutline[] {
  return ownOutlines(shape).map(({ does, outline, isTurned }) => ({
    does,
    outline: onFace(outline, shape.spinDeg ?? 0, at, isTurned ? otherSide(pegOn) : pegOn),
  }));
}

/** In the piece's own axes, seen from its tip; `isTurned` where that is in the pegged part. */
interface OwnOutline extends PieceOutline {
  isTurned: boolean;
}

const ownOutlines = ofLate((shape: JointShape): OwnOutline[] =>
  jointKind(shape.kind)
    .pieces(shape)
    .map((piece) => ({
      does: piece.does,
      outline: faceOutlineOf(piece.body),
      isTurned: piece.in !== 'loose' && pointsBack(piece),
    })),
);

/** From the joint's own axes, seen from its tip, into the seam's frame, seen from the front. */
function onFace(outline: Loop, spinDeg: number, [x, y]: Vec2, pegOn: Side): Loop {
  const [c, s] = [Math.cos((spinDeg * Math.PI) / 180), Math.sin((spinDeg * Math.PI) / 180)];
  const up = pegOn === 'back' ? 1 : -1;
  const placed = new Float64Array(outline.length);
  for (let i = 0; i < outline.length; i += 2) {
    const to = pegOn === 'back' ? i : outline.length - 2 - i;
    const [a, b] = [outline[i], up * outline[i + 1]];
    placed[to] = x + c * a - s * b;
    placed[to + 1] = y + s * a + c * b;
  }
  return placed;
}

/** How far what a joint adds or leaves loose, or what it takes, reaches along its own two axes at the face, mm. */
export function halfExtents(shape: JointShape, does: 'add' | 'take'): Vec2 {
  let [x, y] = [0, 0];
  for (const own of ownOutlines(shape)) {
    if (own.does !== does) continue;
    for (let i = 0; i < own.outline.length; i += 2) {
      x = Math.max(x, Math.abs(own.outline[i]));
      y = Math.max(y, Math.abs(own.outline[i + 1]));
    }
  }
  return [x, y];
}

/** Where along the joint's axis what goes in begins and ends, mm from the face. */
export function heightsOf(shape: JointShape): { footMm: number; tipMm: number } {
  const bodies = jointKind(shape.kind)
    .pieces(shape)
    .flatMap(({ does, body }) => (does === 'add' ? [body] : []));
  return {
    footMm: Math.min(...bodies.map(({ bottom }) => bottom)),
    tipMm: Math.max(...bodies.map(endOf)),
  };
}
