import type { Loop } from '../math/polygon.ts';
import { type Place, suggestPlaces } from './suggest-places.ts';

/** Kept as long as the outline is. */
const known = new WeakMap<Loop, Place | null>();

/** Where one region of a face (its outline first) has most room, null where it has none. */
export function poleOf(region: readonly Loop[]): Place | null {
  const [outer] = region;
  let pole = known.get(outer);
  if (pole === undefined) {
    pole = suggestPlaces(region, [], 1).at(0) ?? null;
    known.set(outer, pole);
  }
  return pole;
}
