import { TOLERANCES } from '../../math/tolerances.ts';
import type { Vec2 } from '../../math/vec3.ts';
import { LIMITS } from '../../model/limits.ts';
import { taperedKind } from '../tapered.ts';

/** The tapered peg of round section: a cone with its tip rounded off. Alone it turns freely; it takes another to hold. */
export const round = taperedKind({
  name: 'round',
  fields: [{ name: 'diameterMm', limits: LIMITS.pegWidthMm, step: 0.1, grip: 'both' }],
  spins: false,
  turnsDeg: 'any',
  sizes: (asked, widthMm) => ({ diameterMm: asked.diameterMm ?? widthMm }),
  narrowMm: ({ diameterMm }) => diameterMm,
  widened: ({ diameterMm }, mm) => ({ diameterMm: Math.max(diameterMm, mm) }),
  core({ diameterMm }, { inset, outset }) {
    const radius = diameterMm / 2 - inset;
    const count = cornersFor(radius + outset);
    const normals = Array.from({ length: count }, (_, i): Vec2 => {
      const angle = (2 * Math.PI * i) / count;
      return [Math.cos(angle), Math.sin(angle)];
    });
    return { corners: normals.map(([x, y]): Vec2 => [radius * x, radius * y]), normals };
  },
});

/** Corners of a polygon in a circle of this radius (mm) whose sides lie within the chord tolerance of it: some fours. */
const cornersFor = (radius: number): number =>
  4 * Math.ceil(Math.PI / Math.acos(1 - Math.min(1, TOLERANCES.jointChord / radius)) / 4);
