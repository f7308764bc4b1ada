import type { Vec3 } from '../math/vec3.ts';

/** True when a part of this size fits the build volume standing on some side of its box. Sizes mm. */
export function fitsBed(sizeMm: Vec3, bedMm: Vec3): boolean {
  const part = [...sizeMm].sort((a, b) => a - b);
  const bed = [...bedMm].sort((a, b) => a - b);
  return part.every((size, k) => size <= bed[k]);
}
