import { type Loop, regionArea, regionPerimeter } from '../../math/polygon.ts';
import { TOLERANCES } from '../../math/tolerances.ts';

/** True for a region that is large and wide enough for a joint to stand on: slivers are neither. */
export function isRoomy(loops: readonly Loop[]): boolean {
  const areaMm2 = regionArea(loops);
  return areaMm2 >= TOLERANCES.contactArea && 2 * areaMm2 >= TOLERANCES.contactWidth * regionPerimeter(loops);
}
