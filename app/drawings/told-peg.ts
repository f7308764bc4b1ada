import { jointKind, liesAlongFace, type ToldPeg } from './engine.ts';
import { type PegShape, spinOf } from './peg-shape.ts';

/** A joint as it is told: its kind, the sizes a hand changes on the face, its place and its turn. */
export function toldPeg(shape: PegShape): ToldPeg {
  const { fields } = jointKind(shape.sizes.kind);
  const sizes = fields.filter(liesAlongFace).map(({ name }) => ({ name, mm: shape.sizes[name] }));
  const isTurned = fields.some(({ grip }) => grip === 'turn');
  return { uv: shape.uv, sizes, spinDeg: isTurned ? spinOf(shape) : null };
}
