import { jointKind } from '../../src/joint/kinds.ts';
import type { Vec2 } from '../../src/math/vec3.ts';
import type { JointShape } from '../../src/model/joint.ts';

/** Pegs of every section at random, such as can be made; the same for the same throws. */

type Random = () => number;

const about = (n: number, radius: (k: number) => number, start: number): Vec2[] =>
  Array.from({ length: n }, (_, k) => {
    const angle = start + (2 * Math.PI * k) / n;
    return [radius(k) * Math.cos(angle), radius(k) * Math.sin(angle)];
  });

const moved = (points: Vec2[], random: Random): Vec2[] => {
  const [dx, dy, turn] = [random() - 0.5, random() - 0.5, 7 * random()];
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return points.map(([x, y]) => [c * x - s * y + dx, s * x + c * y + dy]);
};

/** Outlines a person might draw, mm: convex ones, stars, letters, and such as have no name. */
const OUTLINES: Record<string, (random: Random) => Vec2[]> = {
  convex: (random) => about(3 + Math.floor(7 * random()), () => 2.5 + 2 * random(), random()),
  ring: (random) => about(5 + Math.floor(36 * random()), () => 4, random()),
  star: (random) => {
    const [inner, outer] = [1.8 + random(), 3.6 + random()];
    return about(2 * (4 + Math.floor(4 * random())), (k) => (k % 2 ? inner : outer), random());
  },
  L: (random) => {
    const [a, b, w] = [5 + 3 * random(), 5 + 3 * random(), 1.6 + 1.2 * random()];
    return [
      [-2, -2],
      [a - 2, -2],
      [a - 2, w - 2],
      [w - 2, w - 2],
      [w - 2, b - 2],
      [-2, b - 2],
    ];
  },
  T: (random) => {
    const [a, b, w] = [3 + 2 * random(), 4 + 2 * random(), 0.9 + 0.6 * random()];
    return [
      [-w, -b],
      [w, -b],
      [w, 0],
      [a, 0],
      [a, 2 * w],
      [-a, 2 * w],
      [-a, 0],
      [-w, 0],
    ];
  },
  U: (random) => {
    const [a, b, w] = [3.5 + random(), 5 + 2 * random(), 1.5 + 0.6 * random()];
    return [
      [-a, -2],
      [a, -2],
      [a, b - 2],
      [a - w, b - 2],
      [a - w, w - 2],
      [w - a, w - 2],
      [w - a, b - 2],
      [-a, b - 2],
    ];
  },
  any: (random) => about(5 + Math.floor(8 * random()), () => 1.8 + 2.6 * random(), random()),
};

/** Sizes of its own that a peg of the kind may have, mm. */
const OWN: Record<string, (random: Random) => object> = {
  round: (random) => ({ diameterMm: 1.5 + 9 * random() }),
  d: (random) => {
    const diameterMm = 2.5 + 8 * random();
    return { diameterMm, flatMm: (diameterMm / 2) * (0.05 + 0.9 * random()) };
  },
  bar: (random) => {
    const [long, narrow] = [3 + 9 * random(), 1.2 + 3 * random()];
    return random() < 0.5 ? { widthMm: long, heightMm: narrow } : { widthMm: narrow, heightMm: long };
  },
  outline: (random) => {
    const names = Object.keys(OUTLINES);
    const drawn = moved(OUTLINES[names[Math.floor(names.length * random())]](random), random);
    // Either way around, and some scaled.
    const outlineMm = random() < 0.5 ? drawn : drawn.reverse();
    return random() < 0.5 ? { outlineMm } : { outlineMm, widthMm: 5 + 5 * random() };
  },
};

/** A shape of the kind that can be made. */
export function randomShape(kind: string, random: Random): JointShape {
  for (;;) {
    const side = 0.03 + 0.35 * random();
    const asked = {
      id: 'a',
      kind,
      at: 'auto',
      ...OWN[kind](random),
      lengthMm: 1 + 6 * random(),
      draftDeg: random() < 0.1 ? 0 : 14 * random(),
      edgeRadiusMm: random() < 0.2 ? 0 : 0.8 * random(),
      spinDeg: 360 * random(),
      sideGapMm: side,
      // No less than the side gap: else the side gap ends where the socket's core does.
      endGapMm: side + 0.6 * random(),
    } as const;
    const process = { name: '', sideGapMm: 0, endGapMm: 0, minWallMm: 0, bedMm: [1, 1, 1] } as const;
    const shape = jointKind(kind).settle(asked, process, { widthMm: 0, lengthShare: 1 });
    if (jointKind(kind).fault(shape) === null) return shape;
  }
}
