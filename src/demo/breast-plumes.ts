import { makeChain, type Node } from './chain.ts';
import { type Field, type Part, uniteParts } from './field.ts';
import type { FigureStyle } from './figure-style.ts';
import { clamp01 } from './sdf.ts';

/** Heights at which a plume is pinned to the breast, its thickness there, and how far it stands off, mm. */
const PINS = [
  { z: 131, radius: 1.2, off: -0.5 },
  { z: 125, radius: 1.6, off: 0.1 },
  { z: 118, radius: 1.75, off: 0.3 },
  { z: 111, radius: 1.6, off: 0.4 },
  { z: 105, radius: 1.35, off: 0.5 },
  { z: 99.5, radius: 0.9, off: 0.7 },
] as const;

/** How far apart the plumes hang, and how much higher each ends than the one inside it, mm. */
const SPACING = 3.3;
const RISE = 2.6;

/** Plumes that fall from the foot of the neck and lie on the breast, made of `under`, down to their tips. */
export function makeBreastPlumes(style: FigureStyle, under: readonly Part[]): Part[] {
  const breast = uniteParts(under);
  const hair = style.octaves(1.6);
  return [-2, -1, 0, 1, 2].map((i) => {
    const chain = makeChain(PINS.map((pin, k) => pinned(breast, pin, i, k)));
    return {
      box: chain.box,
      blendMm: 0.8,
      distance: chain.distance,
      relief: (x, y, z) => 0.4 * hair(x * 1.2, y * 1.2, z * 0.15) * clamp01(chain.radius),
    };
  });
}

function pinned(breast: Field, pin: (typeof PINS)[number], i: number, k: number): Node {
  const y = i * SPACING * (0.6 + 0.1 * k);
  const z = pin.z + Math.abs(i) * RISE * (k / PINS.length);
  return [frontOf(breast, y, z) + pin.off, y, z, pin.radius];
}

/** Where the breast's front is at this breadth and height: x by bisection. */
function frontOf(breast: Field, y: number, z: number): number {
  let [inside, outside] = [8, 60];
  for (let step = 0; step < 40; step++) {
    const x = (inside + outside) / 2;
    if (breast.smooth(x, y, z) < 0) inside = x;
    else outside = x;
  }
  return outside;
}
