import { type Box, type Field, uniteParts } from './field.ts';
import type { FigureStyle } from './figure-style.ts';
import { WATER_MM } from './post.ts';
import { ellipsoid, length2, smoothMax } from './sdf.ts';

/** Air between a mussel and whatever it sits beside, mm. */
const AIR = 0.7;

/** Farther from its own shape than this a mussel does not ask what it must keep clear of, mm. */
const FAR = 2;

/** Mussels at the foot of the post: angle round it, height, lean (radians), half length (mm). */
const CLUSTER = [
  { angle: -0.92, z: 11.4, lean: 0.2, half: 7 },
  { angle: -1.29, z: 10.4, lean: -0.4, half: 6.3 },
  { angle: -0.54, z: 10, lean: 0.65, half: 5.8 },
] as const;

/** One shell each, held clear of the figure and of one another. */
export function makeMussels(style: FigureStyle, around: Field): Field[] {
  const before: Field[] = [];
  for (const mussel of CLUSTER) {
    const placed = makeMussel(mussel, style, [around, ...before]);
    before.push(placed);
  }
  return before;
}

function makeMussel(at: (typeof CLUSTER)[number], style: FigureStyle, others: readonly Field[]): Field {
  const out = 20.9;
  const [cx, cy] = [out * Math.cos(at.angle), out * Math.sin(at.angle)];
  const [cl, sl] = [Math.cos(at.lean), Math.sin(at.lean)];
  const [ca, sa] = [Math.cos(at.angle), Math.sin(at.angle)];
  const a = at.half;
  /** Along the mussel from its beak, across it, and out from the post. */
  const local = (x: number, y: number, z: number) => {
    const side = -(x - cx) * sa + (y - cy) * ca;
    const up = z - at.z;
    return { along: up * cl + side * sl, across: side * cl - up * sl, out: (x - cx) * ca + (y - cy) * sa };
  };
  const reach = a + 0.5;
  const box: Box = [
    cx - reach,
    cy - reach,
    Math.max(WATER_MM, at.z - reach),
    cx + reach,
    cy + reach,
    at.z + reach,
  ];
  const rings = Math.max(1.5, style.finestMm * 2.5);
  return uniteParts([
    {
      box,
      blendMm: 0,
      distance(x, y, z) {
        const q = local(x, y, z);
        const waist = 1 + 0.42 * (q.along / a);
        let d =
          ellipsoid(
            q.along,
            (q.across + (0.07 * q.along ** 2) / a) / waist,
            q.out / (0.75 + 0.25 * waist),
            a,
            a * 0.52,
            a * 0.46,
          ) * 0.8;
        if (d > FAR) return d;
        for (const other of others) d = smoothMax(d, AIR - other.smooth(x, y, z), 1);
        return d;
      },
      relief(x, y, z) {
        const q = local(x, y, z);
        const growth = length2(q.along + a * 1.1, q.across * 2.1);
        return q.out > 0 ? 0.05 * Math.sin((growth * 2 * Math.PI) / rings) : 0;
      },
    },
  ]);
}
