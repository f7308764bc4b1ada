import { turn } from './predicates.ts';
import type { Vec2 } from './vec3.ts';

/**
 * True where a closed outline (its corners, the last joined to the first) neither crosses nor touches itself: every two
 * sides have no point in common but the corner between neighbours. Signs are exact; every two sides are held against
 * each other.
 */
export function isSimpleOutline(corners: readonly Vec2[]): boolean {
  const n = corners.length;
  if (n < 3) return false;
  for (let i = 0; i < n; i++) {
    const [a, b, c] = [corners[i], corners[(i + 1) % n], corners[(i + 2) % n]];
    // The next side may go straight on, not back.
    if (isSame(a, b) || (turnOf(a, b, c) === 0 && comesBack(a, b, c))) return false;
    const last = i === 0 ? n - 1 : n;
    for (let j = i + 2; j < last; j++) if (doMeet(a, b, corners[j], corners[(j + 1) % n])) return false;
  }
  return true;
}

const turnOf = (a: Vec2, b: Vec2, c: Vec2): number => turn(a[0], a[1], b[0], b[1], c[0], c[1]);
const isSame = (a: Vec2, b: Vec2): boolean => a[0] === b[0] && a[1] === b[1];
const comesBack = (a: Vec2, b: Vec2, c: Vec2): boolean =>
  (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]) <= 0;

/** True where two closed pieces of lines have a point in common. */
function doMeet(a: Vec2, b: Vec2, c: Vec2, d: Vec2): boolean {
  if (areApart(a, b, c, d, 0) || areApart(a, b, c, d, 1)) return false;
  const [ofC, ofD, ofA, ofB] = [turnOf(a, b, c), turnOf(a, b, d), turnOf(c, d, a), turnOf(c, d, b)];
  return ofC * ofD <= 0 && ofA * ofB <= 0;
}

const areApart = (a: Vec2, b: Vec2, c: Vec2, d: Vec2, axis: 0 | 1): boolean =>
  Math.max(a[axis], b[axis]) < Math.min(c[axis], d[axis]) ||
  Math.max(c[axis], d[axis]) < Math.min(a[axis], b[axis]);
