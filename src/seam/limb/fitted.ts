import type { Plane } from '../../math/plane.ts';
import { dot, type Vec3 } from '../../math/vec3.ts';
import type { LimbSection } from './section.ts';

/** A section, and the one it was found from. */
export interface FittedSection {
  before: LimbSection;
  after: LimbSection;
}

/** Of a circle as large as a section, mm. */
export const radiusOf = ({ areaMm2 }: LimbSection): number => Math.sqrt(Math.max(areaMm2, 1e-12) / Math.PI);

/** The plane of a unit normal through a point. */
export const planeThrough = (normal: Vec3, point: Vec3): Plane => ({ normal, offset: dot(normal, point) });
