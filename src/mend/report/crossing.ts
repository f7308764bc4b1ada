import { orient2d, orient3d } from '../../math/predicates.ts';

/**
 * Whether two triangles of a mesh cross, exactly: every sign comes from adaptive predicates
 * (Shewchuk, *Discrete & Computational Geometry* 18, 1997). Corners are places in `p` of their x.
 */

/** Corner offsets into the positions, three per triangle. */
export type Three = readonly [number, number, number];

/**
 * True where two triangles without a common corner have a point in common (touching counts), or where two with one
 * common corner have a point in common besides it. Corners are common where their coordinates are.
 * Triangles with two common corners or more are neighbours, and never cross here; nor do triangles without area.
 */
export function trianglesCross(p: Float32Array, s: Three, t: Three): boolean {
  let common = 0;
  let cornerS = 0;
  let cornerT = 0;
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      if (!samePlace(p, s[i], t[j])) continue;
      common++;
      cornerS = i;
      cornerT = j;
    }
  }
  if (common > 1) return false;
  if (isFlat(p, s) || isFlat(p, t)) return false;
  if (planeParts(p, t, s, common) || planeParts(p, s, t, common)) return false;
  if (common === 1) {
    const [i, j] = [cornerS, cornerT];
    return edgeMeets(p, s[(i + 1) % 3], s[(i + 2) % 3], t) || edgeMeets(p, t[(j + 1) % 3], t[(j + 2) % 3], s);
  }
  if (side(p, ...t, s[0]) === 0 && side(p, ...t, s[1]) === 0 && side(p, ...t, s[2]) === 0) {
    return coplanarMeet(p, s, t);
  }
  return (
    edgeMeets(p, s[0], s[1], t) ||
    edgeMeets(p, s[1], s[2], t) ||
    edgeMeets(p, s[2], s[0], t) ||
    edgeMeets(p, t[0], t[1], s) ||
    edgeMeets(p, t[1], t[2], s) ||
    edgeMeets(p, t[2], t[0], s)
  );
}

/** True where a side of one of two triangles passes through the inside of the other: what only touches does not. */
export function trianglesPierce(p: Float32Array, s: Three, t: Three): boolean {
  for (let i = 0; i < 3; i++) {
    const j = (i + 1) % 3;
    if (pierces(p, s[i], s[j], t) || pierces(p, t[i], t[j], s)) return true;
  }
  return false;
}

function pierces(p: Float32Array, d: number, e: number, [a, b, c]: Three): boolean {
  if (side(p, a, b, c, d) * side(p, a, b, c, e) >= 0) return false;
  const ab = Math.sign(side(p, d, e, a, b));
  return ab !== 0 && Math.sign(side(p, d, e, b, c)) === ab && Math.sign(side(p, d, e, c, a)) === ab;
}

/** True where two triangles have two corners in common, or all three. */
export function shareEdge(p: Float32Array, s: Three, t: Three): boolean {
  return s.filter((v) => t.some((w) => samePlace(p, v, w))).length > 1;
}

/** True where all of a triangle but its common corners lies strictly on one side of another's plane. */
function planeParts(p: Float32Array, [a, b, c]: Three, s: Three, common: number): boolean {
  let above = 0;
  let below = 0;
  for (let i = 0; i < 3; i++) {
    const d = side(p, a, b, c, s[i]);
    if (d > 0) above++;
    else if (d < 0) below++;
    if (above > 0 && below > 0) return false;
  }
  return above + below === 3 - common;
}

/** In one plane, triangles have no point in common exactly where a side of one has all of the other beyond it. */
function coplanarMeet(p: Float32Array, s: Three, t: Three): boolean {
  const axis = turn(p, s[0], s[1], s[2], 2) !== 0 ? 2 : turn(p, s[0], s[1], s[2], 1) !== 0 ? 1 : 0;
  return !sideParts(p, s, t, axis) && !sideParts(p, t, s, axis);
}

function sideParts(p: Float32Array, s: Three, t: Three, axis: number): boolean {
  const inner = turn(p, s[0], s[1], s[2], axis);
  for (let i = 0; i < 3; i++) {
    const [a, b] = [s[i], s[(i + 1) % 3]];
    if (
      turn(p, a, b, t[0], axis) * inner < 0 &&
      turn(p, a, b, t[1], axis) * inner < 0 &&
      turn(p, a, b, t[2], axis) * inner < 0
    )
      return true;
  }
  return false;
}

const samePlace = (p: Float32Array, a: number, b: number): boolean =>
  a === b || (p[a] === p[b] && p[a + 1] === p[b + 1] && p[a + 2] === p[b + 2]);

/** Seen along each axis the triangle has no area. */
function isFlat(p: Float32Array, [a, b, c]: Three): boolean {
  return turn(p, a, b, c, 0) === 0 && turn(p, a, b, c, 1) === 0 && turn(p, a, b, c, 2) === 0;
}

/** Turn of three points seen along an axis. */
function turn(p: Float32Array, a: number, b: number, c: number, axis: number): number {
  const u = axis === 0 ? 1 : 0;
  const v = axis === 2 ? 1 : 2;
  return orient2d(p[a + u], p[a + v], p[b + u], p[b + v], p[c + u], p[c + v]);
}

function side(p: Float32Array, a: number, b: number, c: number, d: number): number {
  return orient3d(
    p[a],
    p[a + 1],
    p[a + 2],
    p[b],
    p[b + 1],
    p[b + 2],
    p[c],
    p[c + 1],
    p[c + 2],
    p[d],
    p[d + 1],
    p[d + 2],
  );
}

/** True where the edge from d to e has a point in common with a triangle that has area. */
function edgeMeets(p: Float32Array, d: number, e: number, [a, b, c]: Three): boolean {
  const sd = side(p, a, b, c, d);
  const se = side(p, a, b, c, e);
  if ((sd > 0 && se > 0) || (sd < 0 && se < 0)) return false;
  if (sd === 0 && se === 0) return edgeMeetsInPlane(p, d, e, [a, b, c]);
  const ab = side(p, d, e, a, b);
  const bc = side(p, d, e, b, c);
  const ca = side(p, d, e, c, a);
  return (ab >= 0 && bc >= 0 && ca >= 0) || (ab <= 0 && bc <= 0 && ca <= 0);
}

/** The same in the triangle's own plane, looked at along an axis that keeps its area. */
function edgeMeetsInPlane(p: Float32Array, d: number, e: number, [a, b, c]: Three): boolean {
  const axis = turn(p, a, b, c, 2) !== 0 ? 2 : turn(p, a, b, c, 1) !== 0 ? 1 : 0;
  if (liesIn(p, d, a, b, c, axis) || liesIn(p, e, a, b, c, axis)) return true;
  return (
    segmentsMeet(p, d, e, a, b, axis) ||
    segmentsMeet(p, d, e, b, c, axis) ||
    segmentsMeet(p, d, e, c, a, axis)
  );
}

function liesIn(p: Float32Array, d: number, a: number, b: number, c: number, axis: number): boolean {
  const ab = turn(p, a, b, d, axis);
  const bc = turn(p, b, c, d, axis);
  const ca = turn(p, c, a, d, axis);
  return (ab >= 0 && bc >= 0 && ca >= 0) || (ab <= 0 && bc <= 0 && ca <= 0);
}

/** True where two segments of a plane have a point in common, seen along an axis that keeps the plane's area. */
function segmentsMeet(p: Float32Array, d: number, e: number, a: number, b: number, axis: number): boolean {
  const [da, db] = [turn(p, d, e, a, axis), turn(p, d, e, b, axis)];
  const [ad, ae] = [turn(p, a, b, d, axis), turn(p, a, b, e, axis)];
  if (da === 0 && db === 0) return isBetween(p, d, e, a, axis) || isBetween(p, d, e, b, axis);
  return Math.sign(da) !== Math.sign(db) && Math.sign(ad) !== Math.sign(ae);
}

/** True where c, in line with the segment from a to b, lies on it. */
function isBetween(p: Float32Array, a: number, b: number, c: number, axis: number): boolean {
  for (let k = 0; k < 3; k++) {
    if (k === axis) continue;
    if (p[c + k] < Math.min(p[a + k], p[b + k]) || p[c + k] > Math.max(p[a + k], p[b + k])) return false;
  }
  return true;
}
