import { loopArea, loopPerimeter } from '../math/polygon.ts';
import type { Vec2 } from '../math/vec3.ts';
import type { Outline } from '../model/outline.ts';
import { type RoomToMove, roomToMove } from './room-to-move.ts';
import { type StraightSide, straightSides } from './straight-sides.ts';

/** What is known of an outline a person gave, mm. */
export interface OwnOutline {
  /** Counter-clockwise, without repeated corners and such as lie straight between others. */
  corners: readonly Vec2[];
  /** Its extent along x. */
  widthMm: number;
  /** Four times its area over its perimeter: of a square or a circle how wide it is, of a long strip nearly twice that. */
  narrowMm: number;
  room: RoomToMove;
  sides: readonly StraightSide[];
}

const known = new WeakMap<Outline, OwnOutline>();

/** Kept as long as the outline is. */
export function ownOutline(outline: Outline): OwnOutline {
  let own = known.get(outline);
  if (!own) {
    const corners = cornersOf(outline);
    const loop = Float64Array.from(corners.flat());
    const xs = corners.map(([x]) => x);
    own = {
      corners,
      widthMm: Math.max(...xs) - Math.min(...xs),
      narrowMm: (4 * loopArea(loop)) / loopPerimeter(loop),
      room: roomToMove(corners),
      sides: straightSides(corners),
    };
    known.set(outline, own);
  }
  return own;
}

/** Sine of the turn below which a corner lies straight between its neighbours. */
const STRAIGHT = 1e-9;

function cornersOf(outline: Outline): readonly Vec2[] {
  const apart = outline.filter(([x, y], i) => {
    const [px, py] = outline[(i + outline.length - 1) % outline.length];
    return x !== px || y !== py;
  });
  const twice = apart.reduce((sum, [x, y], i) => {
    const [nx, ny] = apart[(i + 1) % apart.length];
    return sum + x * ny - nx * y;
  }, 0);
  const around = twice < 0 ? apart.reverse() : apart;
  return around.filter((at, i) => {
    const [before, after] = [
      around[(i + around.length - 1) % around.length],
      around[(i + 1) % around.length],
    ];
    const [ux, uy, vx, vy] = [at[0] - before[0], at[1] - before[1], after[0] - at[0], after[1] - at[1]];
    return Math.abs(ux * vy - uy * vx) > STRAIGHT * Math.hypot(ux, uy) * Math.hypot(vx, vy);
  });
}
