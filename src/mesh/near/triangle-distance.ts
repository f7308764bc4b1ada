/**
 * Distances between points, segments and triangles held in flat arrays.
 * Nearest point on a triangle and between segments follow the region tests of
 * Ericson, *Real-Time Collision Detection*, 2005, §5.1.5 and §5.1.9.
 */

/** x, y, z of three corners, one after the other: nine numbers, mm. */
export type Corners = Float64Array;

/** The point that was nearest in the last call; read it before calling again. */
export const nearest = { x: 0, y: 0, z: 0 };

/** Squared distance (mm²) from a point to a triangle. Sets `nearest` to the triangle's point. */
export function pointTriangleSquared(px: number, py: number, pz: number, t: Corners): number {
  const abx = t[3] - t[0];
  const aby = t[4] - t[1];
  const abz = t[5] - t[2];
  const acx = t[6] - t[0];
  const acy = t[7] - t[1];
  const acz = t[8] - t[2];
  const apx = px - t[0];
  const apy = py - t[1];
  const apz = pz - t[2];
  const d1 = abx * apx + aby * apy + abz * apz;
  const d2 = acx * apx + acy * apy + acz * apz;
  if (d1 <= 0 && d2 <= 0) return settle(px, py, pz, t[0], t[1], t[2]);
  const bpx = px - t[3];
  const bpy = py - t[4];
  const bpz = pz - t[5];
  const d3 = abx * bpx + aby * bpy + abz * bpz;
  const d4 = acx * bpx + acy * bpy + acz * bpz;
  if (d3 >= 0 && d4 <= d3) return settle(px, py, pz, t[3], t[4], t[5]);
  const vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) {
    const s = d1 / (d1 - d3);
    return settle(px, py, pz, t[0] + s * abx, t[1] + s * aby, t[2] + s * abz);
  }
  const cpx = px - t[6];
  const cpy = py - t[7];
  const cpz = pz - t[8];
  const d5 = abx * cpx + aby * cpy + abz * cpz;
  const d6 = acx * cpx + acy * cpy + acz * cpz;
  if (d6 >= 0 && d5 <= d6) return settle(px, py, pz, t[6], t[7], t[8]);
  const vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) {
    const s = d2 / (d2 - d6);
    return settle(px, py, pz, t[0] + s * acx, t[1] + s * acy, t[2] + s * acz);
  }
  const va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    const s = (d4 - d3) / (d4 - d3 + (d5 - d6));
    return settle(px, py, pz, t[3] + s * (t[6] - t[3]), t[4] + s * (t[7] - t[4]), t[5] + s * (t[8] - t[5]));
  }
  const denominator = 1 / (va + vb + vc);
  const v = vb * denominator;
  const w = vc * denominator;
  return settle(px, py, pz, t[0] + abx * v + acx * w, t[1] + aby * v + acy * w, t[2] + abz * v + acz * w);
}

function settle(px: number, py: number, pz: number, x: number, y: number, z: number): number {
  nearest.x = x;
  nearest.y = y;
  nearest.z = z;
  return (px - x) ** 2 + (py - y) ** 2 + (pz - z) ** 2;
}

/**
 * Squared distance (mm²) between two triangles, 0 when they touch or cross.
 * Sets `nearest` to the point of `a`. No closures: this is the innermost loop of every wall.
 */
export function triangleTriangleSquared(a: Corners, b: Corners): number {
  let best = Number.POSITIVE_INFINITY;
  let x = 0;
  let y = 0;
  let z = 0;
  for (let i = 0; i < 9; i += 3) {
    const fromA = pointTriangleSquared(a[i], a[i + 1], a[i + 2], b);
    if (fromA < best) {
      best = fromA;
      x = a[i];
      y = a[i + 1];
      z = a[i + 2];
    }
    const fromB = pointTriangleSquared(b[i], b[i + 1], b[i + 2], a);
    if (fromB < best) {
      best = fromB;
      x = nearest.x;
      y = nearest.y;
      z = nearest.z;
    }
    for (let j = 0; j < 9; j += 3) {
      const between = segmentSegmentSquared(a, i, (i + 3) % 9, b, j, (j + 3) % 9);
      if (between >= best) continue;
      best = between;
      x = nearest.x;
      y = nearest.y;
      z = nearest.z;
    }
  }
  if (best > 0 && (piercedBy(a, b) || piercedBy(b, a))) best = 0;
  nearest.x = x;
  nearest.y = y;
  nearest.z = z;
  return best;
}

/** Squared distance between segments a[i]–a[j] and b[k]–b[l]. Sets `nearest` to the point on the first. */
function segmentSegmentSquared(a: Corners, i: number, j: number, b: Corners, k: number, l: number): number {
  const d1x = a[j] - a[i];
  const d1y = a[j + 1] - a[i + 1];
  const d1z = a[j + 2] - a[i + 2];
  const d2x = b[l] - b[k];
  const d2y = b[l + 1] - b[k + 1];
  const d2z = b[l + 2] - b[k + 2];
  const rx = a[i] - b[k];
  const ry = a[i + 1] - b[k + 1];
  const rz = a[i + 2] - b[k + 2];
  const aa = d1x * d1x + d1y * d1y + d1z * d1z || 1e-300;
  const ee = d2x * d2x + d2y * d2y + d2z * d2z || 1e-300;
  const f = d2x * rx + d2y * ry + d2z * rz;
  const c = d1x * rx + d1y * ry + d1z * rz;
  const bb = d1x * d2x + d1y * d2y + d1z * d2z;
  const denominator = aa * ee - bb * bb;
  let s = denominator > 1e-14 * aa * ee ? clamp01((bb * f - c * ee) / denominator) : 0;
  let t = (bb * s + f) / ee;
  if (t < 0) {
    t = 0;
    s = clamp01(-c / aa);
  } else if (t > 1) {
    t = 1;
    s = clamp01((bb - c) / aa);
  }
  const x = a[i] + s * d1x;
  const y = a[i + 1] + s * d1y;
  const z = a[i + 2] + s * d1z;
  return settle(b[k] + t * d2x, b[k + 1] + t * d2y, b[k + 2] + t * d2z, x, y, z);
}

const clamp01 = (v: number): number => (v < 0 ? 0 : Math.min(v, 1));

/** True when an edge of `b` passes through triangle `a` (signed volumes of the tetrahedra they span). */
function piercedBy(a: Corners, b: Corners): boolean {
  for (let i = 0; i < 9; i += 3) {
    const j = (i + 3) % 9;
    const from = tetra(a, 0, 3, 6, b, i);
    const to = tetra(a, 0, 3, 6, b, j);
    if (from * to >= 0) continue;
    const u = edgeVolume(a, 0, 3, b, i, j);
    const v = edgeVolume(a, 3, 6, b, i, j);
    const w = edgeVolume(a, 6, 0, b, i, j);
    if ((u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0)) return true;
  }
  return false;
}

/** Six times the signed volume of a's corners p, q, r and b's corner s. */
function tetra(a: Corners, p: number, q: number, r: number, b: Corners, s: number): number {
  return determinant(
    a[q] - a[p],
    a[q + 1] - a[p + 1],
    a[q + 2] - a[p + 2],
    a[r] - a[p],
    a[r + 1] - a[p + 1],
    a[r + 2] - a[p + 2],
    b[s] - a[p],
    b[s + 1] - a[p + 1],
    b[s + 2] - a[p + 2],
  );
}

/** Six times the signed volume spanned by a's edge p–q and b's edge s–t. */
function edgeVolume(a: Corners, p: number, q: number, b: Corners, s: number, t: number): number {
  return determinant(
    b[t] - b[s],
    b[t + 1] - b[s + 1],
    b[t + 2] - b[s + 2],
    a[p] - b[s],
    a[p + 1] - b[s + 1],
    a[p + 2] - b[s + 2],
    a[q] - b[s],
    a[q + 1] - b[s + 1],
    a[q + 2] - b[s + 2],
  );
}

function determinant(
  ax: number,
  ay: number,
  az: number,
  bx: number,
  by: number,
  bz: number,
  cx: number,
  cy: number,
  cz: number,
): number {
  return ax * (by * cz - bz * cy) - ay * (bx * cz - bz * cx) + az * (bx * cy - by * cx);
}
