import { clipEars, turnsLeft } from './clip-ears.ts';

type Positions = Float32Array | Float64Array;

/**
 * Divides one polygon of a mesh into its corners − 2 triangles, in its own turn and without new vertices,
 * seen along its Newell normal (Newell's method: Sutherland, Sproull & Schumacker, *ACM Computing Surveys* 6(1), 1974).
 * A convex polygon is fanned from its first corner, any other gets its ears clipped. A polygon that crosses
 * itself comes out covering what it can; its edges are always each used once, so neighbours stay joined.
 * @param corners vertex indices, at least three.
 * @param dst receives the triangles from `at` on.
 */
export function triangulatePolygon(
  positions: Positions,
  corners: Uint32Array,
  dst: Uint32Array,
  at: number,
): void {
  const flat = corners.length > 3 ? flatten(positions, corners) : null;
  if (flat === null || isConvex(flat)) {
    for (let k = 2, i = at; k < corners.length; k++) {
      dst[i++] = corners[0];
      dst[i++] = corners[k - 1];
      dst[i++] = corners[k];
    }
    return;
  }
  const ears = clipEars(flat);
  for (let i = 0; i < ears.length; i++) dst[at + i] = corners[ears[i]];
}

/** The polygon's x, y pairs in its Newell plane, counter-clockwise; null for one without area. */
function flatten(p: Positions, corners: Uint32Array): Float64Array | null {
  const [nx, ny, nz] = newellNormal(p, corners);
  const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
  if (!(length > 0)) return null;
  // Two axes across the normal, started from the coordinate axis that is farthest from it.
  const [ax, ay, az] = [Math.abs(nx), Math.abs(ny), Math.abs(nz)];
  const [ex, ey, ez] = ax <= ay && ax <= az ? [1, 0, 0] : ay <= az ? [0, 1, 0] : [0, 0, 1];
  const ux = (ny * ez - nz * ey) / length;
  const uy = (nz * ex - nx * ez) / length;
  const uz = (nx * ey - ny * ex) / length;
  const vx = (ny * uz - nz * uy) / length;
  const vy = (nz * ux - nx * uz) / length;
  const vz = (nx * uy - ny * ux) / length;
  const origin = corners[0] * 3;
  const flat = new Float64Array(corners.length * 2);
  for (let i = 0; i < corners.length; i++) {
    const c = corners[i] * 3;
    const x = p[c] - p[origin];
    const y = p[c + 1] - p[origin + 1];
    const z = p[c + 2] - p[origin + 2];
    flat[i * 2] = x * ux + y * uy + z * uz;
    flat[i * 2 + 1] = x * vx + y * vy + z * vz;
  }
  return flat;
}

/** Twice the polygon's area vector, taken about its first corner. */
function newellNormal(p: Positions, corners: Uint32Array): [number, number, number] {
  const o = corners[0] * 3;
  let nx = 0;
  let ny = 0;
  let nz = 0;
  for (let i = 2; i < corners.length; i++) {
    const b = corners[i - 1] * 3;
    const c = corners[i] * 3;
    const ux = p[b] - p[o];
    const uy = p[b + 1] - p[o + 1];
    const uz = p[b + 2] - p[o + 2];
    const vx = p[c] - p[o];
    const vy = p[c + 1] - p[o + 1];
    const vz = p[c + 2] - p[o + 2];
    nx += uy * vz - uz * vy;
    ny += uz * vx - ux * vz;
    nz += ux * vy - uy * vx;
  }
  return [nx, ny, nz];
}

/** True where every corner turns left, and all together once around. */
function isConvex(flat: Float64Array): boolean {
  const n = flat.length / 2;
  let sweeps = 0;
  for (let i = 0; i < n; i++) {
    const [b, c] = [(i + 1) % n, (i + 2) % n];
    if (!turnsLeft(flat, i, b, c)) return false;
    const uy = flat[b * 2 + 1] - flat[i * 2 + 1];
    const vy = flat[c * 2 + 1] - flat[b * 2 + 1];
    // The direction passes the positive x axis once per turn.
    if (uy < 0 && vy >= 0) sweeps++;
  }
  return sweeps === 1;
}
