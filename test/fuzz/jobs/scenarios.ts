import type { ManifoldToplevel } from 'manifold-3d';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { prism } from '../../support/meshes.ts';
import { anyFigure, block, oddFigure, refined } from './figures.ts';
import type { Throws } from './throws.ts';

/** What jobs are about, each where some rule of the engine ends and another begins. All about zero, mm. */

export type Point = readonly [number, number, number];

export interface PegPlan {
  at: Point | 'auto';
  widthMm?: number;
  heightMm?: number;
  lengthMm?: number;
  draftDeg?: number;
  edgeRadiusMm?: number;
  spinDeg?: number;
  sideGapMm?: number;
  endGapMm?: number;
}

interface AnySeamPlan {
  id: string;
  of: string;
  pegOn: 'front' | 'back';
  pegs: PegPlan[];
}

/** A seam by a plane. */
export interface SeamPlan extends AnySeamPlan {
  normal: Point;
  offsetMm: number;
  by?: undefined;
}

/** Two bodies, by number, that overlap. */
export interface NestPlan {
  kind: 'contact';
  bodies: readonly [string, string];
  gives?: string | undefined;
  nestGapMm: number;
  rimMm?: number | undefined;
  flat?: { at: Point; normal: Point } | undefined;
}

/** A line swept both ways. */
export interface SweepPlan {
  kind: 'sheet';
  line: readonly Point[];
  along: Point;
  runs: 'straight' | 'smooth';
}

/** A seam by something else than a plane. */
export interface OtherSeamPlan extends AnySeamPlan {
  by: NestPlan | SweepPlan;
}

export interface Plan {
  figure: Mesh;
  seams: (SeamPlan | OtherSeamPlan)[];
  sideGapMm: number;
  endGapMm: number;
  minWallMm: number;
}

/** One whose seams are planes. */
type PlanePlan = Plan & { seams: SeamPlan[] };

export type Scenario = (throws: Throws, kernel: ManifoldToplevel) => Plan;

export const AUTO: PegPlan = { at: 'auto' };

export const gaps = (throws: Throws) => ({
  sideGapMm: throws.round(0.08, 0.25, 2),
  endGapMm: throws.round(0.2, 0.8, 2),
  minWallMm: throws.one([0.4, 0.8, 1.2, 2]),
});

const direction = (throws: Throws): Point => {
  if (throws.chance(0.4))
    return throws.one<Point>([
      [0, 0, 1],
      [0, 1, 0],
      [1, 0, 0],
      [0, 0, -1],
    ]);
  return [throws.between(-1, 1), throws.between(-1, 1), throws.between(0.1, 1)];
};

/** Two to five random cuts, each of a random piece of what there is, mostly with a peg that seeks its place. */
const tree: Scenario = (throws, kernel) => {
  const ids = ['sculpt'];
  const seams = Array.from({ length: 2 + throws.below(4) }, (_, i): SeamPlan => {
    const of = ids.splice(throws.below(ids.length), 1)[0];
    ids.push(`s${i}.front`, `s${i}.back`);
    const pegs = Array.from({ length: throws.chance(0.8) ? 1 : throws.below(3) }, () => AUTO);
    const pegOn = throws.one(['front', 'back'] as const);
    return { id: `s${i}`, of, normal: direction(throws), offsetMm: throws.round(-9, 9), pegOn, pegs };
  });
  const { positions, triangles } = anyFigure(kernel, throws);
  const figure = { positions: positions.map((v) => v * 2), triangles };
  return { figure, seams, ...gaps(throws), minWallMm: throws.one([0.4, 0.8, 1.2]) };
};

/** One cut square to z, pegs put anywhere about its middle in any size. */
const placed: Scenario = (throws, kernel) => {
  const offsetMm = throws.round(-8, 8);
  const pegs = Array.from({ length: 1 + throws.below(2) }, (): PegPlan => {
    const widthMm = throws.round(2, 9);
    return {
      at: [throws.round(-8, 8), throws.round(-8, 8), offsetMm],
      widthMm,
      heightMm: throws.round(2, 9),
      lengthMm: throws.round(2, 12),
      draftDeg: throws.round(0, 9),
      edgeRadiusMm: throws.chance(0.3) ? 0 : throws.round(0.1, widthMm / 5, 2),
      spinDeg: throws.round(-90, 90, 0),
    };
  });
  const pegOn = throws.one(['front', 'back'] as const);
  return {
    figure: anyFigure(kernel, throws),
    seams: [{ id: 'waist', of: 'sculpt', normal: [0, 0, 1], offsetMm, pegOn, pegs }],
    ...gaps(throws),
  };
};

/** A block and a straight peg, for which it is plain how much wall the socket leaves at its side, at its end, or both. */
function besideSkin(throws: Throws, sideWall: number | null, endWall: number | null): PlanePlan {
  const process = gaps(throws);
  const half: Point = [throws.round(9, 30), throws.round(9, 30), throws.round(12, 30)];
  const offsetMm = throws.round(-6, 4);
  const widthMm = throws.round(3, 8);
  const straight = throws.chance(0.5);
  const lengthMm = endWall === null ? throws.round(2, 6) : half[2] - offsetMm - process.endGapMm - endWall;
  const draftDeg = straight || endWall !== null ? 0 : throws.round(1, 6);
  const grown = process.sideGapMm / Math.cos((draftDeg * Math.PI) / 180);
  const x = sideWall === null ? throws.round(-3, 3) : half[0] - widthMm / 2 - grown - sideWall;
  const levels = throws.below(5);
  const figure =
    throws.chance(0.7) || sideWall !== null
      ? block(half, levels)
      : refined(prism(24, half[0], 2 * half[2]), Math.min(2, levels));
  const pegs: PegPlan[] = [
    {
      at: [x, throws.round(-2, 2), offsetMm],
      widthMm,
      heightMm: throws.round(3, 8),
      lengthMm,
      draftDeg,
      edgeRadiusMm: throws.chance(0.4) ? 0 : 0.4,
      spinDeg: 0,
    },
  ];
  return {
    figure,
    seams: [{ id: 'waist', of: 'sculpt', normal: [0, 0, 1], offsetMm, pegOn: 'back', pegs }],
    ...process,
  };
}

/** A wall of no more than some hundredths, or none by as much. */
const hair: Scenario = (throws) => {
  const wall = throws.chance(0.3)
    ? throws.one([0, 1e-8, 1e-6, 1e-4, -1e-6, 0.01])
    : throws.between(-0.02, 0.06);
  return throws.chance(0.5) ? besideSkin(throws, wall, null) : besideSkin(throws, null, wall);
};

/** A wall too thin for the joint to be the face's own affair, and thick enough to be one. */
const thin: Scenario = (throws) => {
  const wall = throws.between(0.0115, 0.0185);
  return throws.chance(0.5) ? besideSkin(throws, wall, null) : besideSkin(throws, null, wall);
};

/** A seam across the part with the pegs: a peg's root comes close to it, or hangs over, while the socket has room. */
const rooted: Scenario = (throws) => {
  const wall = throws.chance(0.75) ? throws.between(0.0115, 0.0185) : throws.between(-1, 1);
  const plan = besideSkin(throws, null, null);
  const [first] = plan.seams;
  const [peg] = first.pegs;
  const [x] = peg.at as Point;
  const edge = x + (peg.widthMm ?? 0) / 2 + wall;
  const half = Math.max(...plan.figure.positions);
  const across: SeamPlan = {
    id: 'across',
    of: 'waist.back',
    normal: [1, 0, 0],
    offsetMm: edge,
    pegOn: throws.one(['front', 'back'] as const),
    pegs: half - edge > 4 && throws.chance(0.5) ? [AUTO] : [],
  };
  return { ...plan, seams: [first, across] };
};

/** A seam through what a socket or a peg of the first one takes, or just beside it. */
const later: Scenario = (throws) => {
  const plan = besideSkin(throws, null, null);
  const [first] = plan.seams;
  const { at, widthMm = 4, lengthMm = 4 } = first.pegs[0];
  const [x] = at as Point;
  const upright = throws.chance(0.5);
  const of = throws.one(['waist.front', 'waist.back']);
  const next: SeamPlan = upright
    ? {
        id: 'next',
        of,
        normal: [1, 0, 0],
        offsetMm: x + widthMm / 2 + throws.between(-3, 2),
        pegOn: 'back',
        pegs: [AUTO],
      }
    : {
        id: 'next',
        of: 'waist.front',
        normal: [throws.between(-0.2, 0.2), 0, 1],
        offsetMm: first.offsetMm + lengthMm + throws.between(-2, 3),
        pegOn: throws.one(['front', 'back'] as const),
        pegs: [AUTO],
      };
  return { ...plan, seams: [first, next] };
};

/** Two pegs of one seam, their sockets nearly touching or a little apart. */
const neighbours: Scenario = (throws) => {
  const plan = besideSkin(throws, null, null);
  const [seam] = plan.seams;
  const [peg] = seam.pegs;
  const [x, y, z] = peg.at as Point;
  const apart = throws.chance(0.4) ? throws.between(0.011, 0.06) : throws.between(-0.3, 2);
  const beside: PegPlan = { ...peg, at: [x - (peg.widthMm ?? 0) - 2 * plan.sideGapMm - apart, y, z] };
  return { ...plan, seams: [{ ...seam, pegs: [peg, beside] }] };
};

/** Clearances of nothing, next to nothing and far too much. */
const absurd: Scenario = (throws) => ({
  ...besideSkin(throws, null, null),
  sideGapMm: throws.one([0, 0.001, 0.01, 0.12, 1.5, 5]),
  endGapMm: throws.one([0, 0.005, 0.05, 0.4, 3, 12]),
});

/** Figures that share space with themselves. */
const odd: Scenario = (throws) => ({
  figure: oddFigure(throws),
  seams: [
    {
      id: 'waist',
      of: 'sculpt',
      normal: direction(throws),
      offsetMm: throws.round(-4, 4),
      pegOn: 'back',
      pegs: [AUTO],
    },
  ],
  ...gaps(throws),
});

/** Scenarios with how often each comes, of a hundred. */
export const SCENARIOS: readonly [name: string, weight: number, make: Scenario][] = [
  ['tree', 18, tree],
  ['placed', 14, placed],
  ['hair', 12, hair],
  ['thin', 18, thin],
  ['rooted', 14, rooted],
  ['later', 8, later],
  ['neighbours', 8, neighbours],
  ['absurd', 4, absurd],
  ['odd', 4, odd],
];
