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
  /** The least way straight across it from the middle of a side. */
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
    const xs = corners.map(([x]) => x);
    own = {
      corners,
      widthMm: Math.max(...xs) - Math.min(...xs),
      narrowMm: Math.min(...corners.map((_, k) => wayAcross(corners, k))),
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

/** From the middle of a side straight in, as far as the next side that is met. */
function wayAcross(corners: readonly Vec2[], side: number): number {
  const n = corners.length;
  const [[ax, ay], [bx, by]] = [corners[side], corners[(side + 1) % n]];
  const length = Math.hypot(bx - ax, by - ay);
  const [ex, ey] = [(bx - ax) / length, (by - ay) / length];
  const [mx, my] = [(ax + bx) / 2, (ay + by) / 2];
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < n; k++) {
    if (k === side) continue;
    const [[cx, cy], [dx, dy]] = [corners[k], corners[(k + 1) % n]];
    // Along the side, and in from it, seen from its middle.
    const [c, d] = [(cx - mx) * ex + (cy - my) * ey, (dx - mx) * ex + (dy - my) * ey];
    if (c > 0 === d > 0) continue;
    const [cIn, dIn] = [(cy - my) * ex - (cx - mx) * ey, (dy - my) * ex - (dx - mx) * ey];
    const way = cIn + ((dIn - cIn) * c) / (c - d);
    if (way > 0) least = Math.min(least, way);
  }
  return least;
}
