/**
 * Mixes the bits of three floats, x, y and z; the sign of a zero plays no part. Each word folds its sign down first:
 * multiplying alone keeps a sign in the top bit, where two of them cancel and a mirrored figure's halves collide.
 * @returns 32 bits, of which the low ones are as well mixed as any.
 */
export function placeHash(x: number, y: number, z: number): number {
  const hx = x << 1 === 0 ? 0 : Math.imul(x ^ (x >>> 15), 0x9e3779b1);
  const hy = y << 1 === 0 ? 0 : Math.imul(y ^ (y >>> 13), 0x85ebca6b);
  const hz = z << 1 === 0 ? 0 : Math.imul(z ^ (z >>> 14), 0xc2b2ae35);
  const h = hx ^ hy ^ hz;
  const mixed = Math.imul(h ^ (h >>> 15), 0x27d4eb2f);
  return mixed ^ (mixed >>> 13);
}
