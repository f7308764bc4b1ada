import type { Vec3 } from '../../src/index.ts';

/**
 * A square piece of the screen about a place, as places of the figure: x, y, z and 1 a pixel, or 0 where it is not seen.
 * `size` pixels a side; its rows may run either way.
 */
export interface SeenPatch {
  size: number;
  places: Float32Array;
  /** How wide a pixel is out there, mm. */
  pixelMm: number;
}

/** Neighbours farther apart than so many pixels lie on different things. */
const JUMP = 8;
/** Cosine between the ways two sides of a crease face, from which on it is one: 35°. */
const CREASE_COS = 0.82;
/** How far to both sides of a pixel those are looked at. */
const REACH = 2;

/** The place nearest to the middle that lies on the figure's outline or on a crease; null where there is none. */
export function snapIn(patch: SeenPatch): Vec3 | null {
  const { size } = patch;
  const middle = (size - 1) / 2;
  let best: { far: number; at: Vec3 } | null = null;
  for (let y = REACH + 1; y < size - REACH - 1; y++) {
    for (let x = REACH + 1; x < size - REACH - 1; x++) {
      const far = Math.hypot(x - middle, y - middle);
      if (far > middle || (best && far >= best.far)) continue;
      const at = placeAt(patch, x, y);
      if (at && (isOutline(patch, x, y, at) || isCrease(patch, x, y))) best = { far, at };
    }
  }
  return best?.at ?? null;
}

function placeAt({ size, places }: SeenPatch, x: number, y: number): Vec3 | null {
  const i = (y * size + x) * 4;
  return places[i + 3]! > 0 ? [places[i]!, places[i + 1]!, places[i + 2]!] : null;
}

const AROUND = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const;

function isOutline(patch: SeenPatch, x: number, y: number, at: Vec3): boolean {
  return AROUND.some(([dx, dy]) => {
    const next = placeAt(patch, x + dx, y + dy);
    return next === null || distance(at, next) > JUMP * patch.pixelMm;
  });
}

function isCrease(patch: SeenPatch, x: number, y: number): boolean {
  return [
    [REACH, 0],
    [0, REACH],
  ].some(([dx, dy]) => {
    const [a, b] = [facingAt(patch, x - dx!, y - dy!), facingAt(patch, x + dx!, y + dy!)];
    return a !== null && b !== null && dot(a, b) < CREASE_COS;
  });
}

/** The way the figure faces at a pixel; null where its neighbours are not of one surface. */
function facingAt(patch: SeenPatch, x: number, y: number): Vec3 | null {
  const [left, right, below, above] = [
    placeAt(patch, x - 1, y),
    placeAt(patch, x + 1, y),
    placeAt(patch, x, y - 1),
    placeAt(patch, x, y + 1),
  ];
  if (!left || !right || !below || !above) return null;
  if (Math.max(distance(left, right), distance(below, above)) > 2 * JUMP * patch.pixelMm) return null;
  const n = cross(sub(right, left), sub(above, below));
  const length = Math.hypot(...n);
  return length > 0 ? [n[0] / length, n[1] / length, n[2] / length] : null;
}

const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const distance = (a: Vec3, b: Vec3): number => Math.hypot(...sub(a, b));
const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
