import { joinMeshes } from '../../../src/mend/bodies.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { lumpySphere, turned } from '../../support/figures.ts';
import { prism } from '../../support/meshes.ts';
import { moved } from '../../support/simple-solids.ts';
import { block, limb } from './figures.ts';
import { AUTO, gaps, type Point, type Scenario } from './scenarios.ts';
import type { Throws } from './throws.ts';

/** What jobs of later seeds are about: seams that are no planes. */

const side = (throws: Throws) => throws.one(['front', 'back'] as const);

/** A body about zero, some `size` mm across from its middle, that bulges everywhere, or nearly. */
function bulging(throws: Throws, size: number): Mesh {
  const makers: (() => Mesh)[] = [
    () => lumpySphere(throws.below(1e6), size, 3, throws.one([0, 0.1, 0.25])),
    () => lumpySphere(throws.below(1e6), size, 3, 0.05),
    () => block([size * throws.between(0.6, 1), size, size * throws.between(0.6, 1)], throws.below(4)),
    () =>
      centred(prism(5 + throws.below(20), size, 2 * size * throws.between(0.6, 1), throws.one([0, 1, 2]))),
  ];
  const mesh = throws.one(makers)();
  return throws.chance(0.5) ? mesh : turned(mesh, throws.between(0, 6), throws.between(0, 3), 0);
}

/** A body moved along z until zero lies halfway up. */
function centred(mesh: Mesh): Mesh {
  const heights = mesh.positions.filter((_, i) => i % 3 === 2);
  return moved(mesh, [0, 0, -(heights.reduce((a, b) => Math.max(a, b)) + Math.min(...heights)) / 2]);
}

/** How far from zero a ray leaves a body that bulges about zero: the nearest of the planes of its triangles ahead, mm. */
function exitOf({ positions: p, triangles }: Mesh, [x, y, z]: Point): number {
  let exit = Infinity;
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => p.subarray(triangles[i + k] * 3, triangles[i + k] * 3 + 3));
    const [u, v] = [b, c].map((corner) => corner.map((value, k) => value - a[k]));
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const ahead = n[0] * x + n[1] * y + n[2] * z;
    if (ahead > 0) exit = Math.min(exit, (n[0] * a[0] + n[1] * a[1] + n[2] * a[2]) / ahead);
  }
  return exit;
}

const anyWay = (throws: Throws): Point => {
  const [x, y, z] = [throws.between(-1, 1), throws.between(-1, 1), throws.between(0.1, 1)];
  const long = Math.hypot(x, y, z);
  return throws.chance(0.4) ? [0, 0, 1] : [x / long, y / long, z / long];
};

/** Two bodies of which one is sunk into the other, somewhere about its skin, trimmed with and without a gap and a flat. */
const nested: Scenario = (throws) => {
  const large = throws.between(10, 20);
  const small = large * throws.between(0.35, 0.95);
  const [one, other] = [bulging(throws, large), bulging(throws, small)];
  const way = anyWay(throws);
  const exit = exitOf(one, way);
  const off = exit + small * throws.between(-0.2, 0.6);
  const figure = joinMeshes([one, moved(other, [way[0] * off, way[1] * off, way[2] * off])]);
  const bodies = throws.one([['1', '2'] as const, ['2', '1'] as const]);
  const gives = throws.one([undefined, '1', '2']);
  const nestGapMm = throws.one([0, 0, 0.05, 0.1, 0.2, 0.3]);
  const rimMm = throws.one([undefined, 0.5, 2, 0]);
  const flat = throws.chance(0.35)
    ? { at: [way[0] * exit, way[1] * exit, way[2] * exit] as const, normal: way }
    : undefined;
  const by = { kind: 'contact' as const, bodies, gives, nestGapMm, rimMm, flat };
  const seam = { id: 'nest', of: 'sculpt', by, pegOn: side(throws), pegs: flat ? [AUTO] : [] };
  return { figure, seams: [seam], ...gaps(throws), minWallMm: throws.one([0.4, 0.8]) };
};

/** A line of one to four runs swept through a figure near its middle, straight from point to point or smooth. */
const swept: Scenario = (throws, kernel) => {
  const size = throws.between(12, 24);
  const figure = throws.chance(0.3) ? limb(kernel, throws) : bulging(throws, size);
  const [u, v, along] = throws.one<[Point, Point, Point]>([
    [
      [1, 0, 0],
      [0, 0, 1],
      [0, 1, 0],
    ],
    [
      [0, 1, 0],
      [0, 0, 1],
      [1, 0, 0],
    ],
    [
      [0, 0.6, 0.8],
      [1, 0, 0],
      [0, 0.8, -0.6],
    ],
  ]);
  const points = 2 + throws.below(4);
  const base = throws.between(-0.3, 0.3) * size;
  // Runs no steeper than a half: the line goes on from its ends without meeting itself.
  const line = Array.from({ length: points }, (_, i): Point => {
    const across = size * ((2 * i) / (points - 1) - 1) * 0.8;
    const up = base + throws.between(-0.35, 0.35) * ((1.6 * size) / (points - 1)) * 0.7;
    return [0, 1, 2].map((k) => u[k] * across + v[k] * up) as unknown as Point;
  });
  const runs = points > 2 && throws.chance(0.25) ? ('smooth' as const) : ('straight' as const);
  const pegs = runs === 'straight' && throws.chance(0.8) ? [AUTO] : [];
  const by = { kind: 'sheet' as const, line, along, runs };
  const seam = { id: 'sweep', of: 'sculpt', by, pegOn: side(throws), pegs };
  return { figure, seams: [seam], ...gaps(throws) };
};

/** With how often each comes, of a hundred. */
export const LATER_SCENARIOS: readonly [name: string, weight: number, make: Scenario][] = [
  ['nested', 50, nested],
  ['swept', 50, swept],
];
