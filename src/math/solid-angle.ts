/**
 * Solid angle of triangles (index triples over `positions`, x, y, z per vertex) seen from a point, steradians: positive
 * where they turn their backs to it, so that a closed outward skin gives 4π within and 0 without (van Oosterom &
 * Strackee, *IEEE Trans. Biomed. Eng.* BME-30(2), 1983). A triangle in whose plane the point lies counts for nothing.
 */
export function solidAngle(
  positions: ArrayLike<number>,
  triangles: Uint32Array,
  px: number,
  py: number,
  pz: number,
): number {
  let sum = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const [u, v, w] = [triangles[i] * 3, triangles[i + 1] * 3, triangles[i + 2] * 3];
    sum += cornerAngle(
      positions[u] - px,
      positions[u + 1] - py,
      positions[u + 2] - pz,
      positions[v] - px,
      positions[v + 1] - py,
      positions[v + 2] - pz,
      positions[w] - px,
      positions[w + 1] - py,
      positions[w + 2] - pz,
    );
  }
  return sum;
}

/** The same of one triangle seen from zero, its corners a, b and c. */
export function cornerAngle(
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
  const det = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
  if (det === 0) return 0;
  const a = Math.sqrt(ax * ax + ay * ay + az * az);
  const b = Math.sqrt(bx * bx + by * by + bz * bz);
  const c = Math.sqrt(cx * cx + cy * cy + cz * cz);
  const ab = ax * bx + ay * by + az * bz;
  const bc = bx * cx + by * cy + bz * cz;
  const ca = cx * ax + cy * ay + cz * az;
  return 2 * Math.atan2(det, a * b * c + ab * c + bc * a + ca * b);
}
