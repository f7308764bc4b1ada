import type { Loop } from '../math/polygon.ts';
import { regionsOf } from '../math/regions.ts';
import type { FacetHosts } from './settled.ts';

/** One face of a seam: a region of a facet that hangs together. */
export interface SeamFace {
  on: FacetHosts;
  /** Its outline first, then what is not of it, in the facet's frame. */
  region: Loop[];
}

/** All faces of a seam, as the parts with sockets have them. */
export const facesOf = (facets: readonly FacetHosts[]): SeamFace[] =>
  facets.flatMap((on) =>
    on.socketed.flatMap(({ room }) => regionsOf(room)).map((region) => ({ on, region })),
  );
