import type { Vec2 } from '../math/vec3.ts';
import type { SizeName } from '../model/joint.ts';

/** A joint as it is told in the face drawing, mm and degrees on the paper. */
export interface ToldPeg {
  uv: Vec2;
  /** The sizes that lie along the face. */
  sizes: readonly { name: SizeName; mm: number }[];
  /** Null where it does not matter how it is turned. */
  spinDeg: number | null;
}
