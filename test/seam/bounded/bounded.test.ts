import bunny from 'bunny';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildHeron } from '../../../src/demo/heron.ts';
import { makeRandom } from '../../../src/demo/prng.ts';
import { PegwrightError } from '../../../src/errors.ts';
import { type Kernel, loadKernel } from '../../../src/kernel/load.ts';
import { plane } from '../../../src/math/plane.ts';
import type { Vec3 } from '../../../src/math/vec3.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { meshOf, partOf } from '../../../src/mesh/part/part.ts';
import { weld } from '../../../src/mesh/topology/weld.ts';
import { type Cut, cutPart } from '../../../src/seam/cut.ts';
import { obtainArmadillo, offSoup } from '../../support/armadillo.ts';
import { limbed } from '../../support/limbed.ts';
import {
  type Crossed,
  countShells,
  crossMesh,
  type Expected,
  faultyEdges,
  flatten,
  floodSurface,
  isWithin,
  type JudgedPlane,
  traceTriangles,
} from '../../support/outline-judge.ts';
import { SEAM } from '../../support/seam-fixture.ts';
import { plainVolume } from '../../support/simple-solids.ts';
import { sweep } from '../../support/sweep.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

/** A seeded plane that meets a figure in several groups of outlines, and some of those. */
interface Trial {
  mesh: Mesh;
  at: JudgedPlane;
  crossed: Crossed;
  chosen: Set<number>;
  /** A point on an outline of each. */
  through: Vec3[];
}

/** Draws planes until one meets the figure in several groups; most figures have such in one of a few. */
function trialOf(mesh: Mesh, seed: number): Trial {
  const random = makeRandom(seed);
  for (;;) {
    const { normal, offset } = plane([random() - 0.5, random() - 0.5, random() - 0.5], 0);
    const v = Math.floor((random() * mesh.positions.length) / 3) * 3;
    const w = Math.floor((random() * mesh.positions.length) / 3) * 3;
    const between = [0, 1, 2].map((k) => (mesh.positions[v + k] + mesh.positions[w + k]) / 2);
    const at = { normal, offset: offset + normal.reduce((sum, n, k) => sum + n * between[k], 0) };
    const crossed = crossMesh(mesh, at);
    if (!crossed || crossed.groups < 2) continue;
    const order = Array.from({ length: crossed.groups }, (_, group) => ({ group, by: random() }));
    order.sort((a, b) => a.by - b.by);
    const chosen = new Set(
      order.slice(0, 1 + Math.floor(random() * (crossed.groups - 1))).map(({ group }) => group),
    );
    const through = [...chosen].map((group) => {
      const outlines = crossed.outlines.filter((one) => one.group === group);
      const { points } = outlines[Math.floor(random() * outlines.length)];
      return points[Math.floor(random() * points.length)];
    });
    return { mesh, at, crossed, chosen, through };
  }
}

/** Cuts as asked and judges what comes; answers whether it was cut or refused. */
function judge(trial: Trial): 'cut' | 'refused' {
  const { mesh, at, crossed, chosen, through } = trial;
  const expected = floodSurface(mesh, crossed, chosen);
  const joined = expected.sides.findIndex(({ front, back }) => front && back);
  let cut: Cut;
  try {
    cut = cutPart(kernel, partOf(mesh), at, SEAM, [0, 0, 0], { through, originMm: [0, 0, 0] });
  } catch (thrown) {
    expect([joined >= 0, thrown]).toEqual([true, expect.anything()]);
    expectJoinedAt(trial, expected, thrown);
    return 'refused';
  }
  expect(joined).toBe(-1);
  expectParts(trial, expected, cut);
  return 'cut';
}

/** The refusal's place lies in an outline that was not chosen, of a piece that is on both sides of the cut. */
function expectJoinedAt({ at, crossed, chosen }: Trial, expected: Expected, thrown: unknown): void {
  expect(thrown).toBeInstanceOf(PegwrightError);
  const { code, facts } = thrown as PegwrightError<'seam-frees-nothing'>;
  expect([code, facts.seamId, facts.chosen]).toEqual(['seam-frees-nothing', SEAM, chosen.size]);
  const place = flatten(at, facts.at);
  const holding = crossed.outlines.filter(({ points }) =>
    isWithin(
      points.map((p) => flatten(at, p)),
      place,
    ),
  );
  const groups = new Set(holding.map(({ group }) => group));
  expect(groups.size).toBe(1);
  const [group] = groups;
  expect(chosen.has(group)).toBe(false);
  const pieces = expected.ahead.filter((_, i) => crossed.groupOf[i] === group);
  expect([...pieces].some((piece) => expected.sides[piece].front && expected.sides[piece].back)).toBe(true);
}

function expectParts({ mesh, crossed, chosen }: Trial, { ahead, behind, sides }: Expected, cut: Cut): void {
  expect(cut.way).toBe('local');
  const [front, back] = [meshOf(cut.front), meshOf(cut.back)];
  expect([faultyEdges(front), faultyEdges(back)]).toEqual([0, 0]);
  const volume = plainVolume(mesh);
  expect(Math.abs(plainVolume(front) + plainVolume(back) - volume) / volume).toBeLessThan(1e-9);
  const [inFront, inBack] = [traceTriangles(mesh, front).known, traceTriangles(mesh, back).known];
  const loose = new Map<number, string>();
  const wrong: number[] = [];
  for (let i = 0; i < crossed.groupOf.length; i++) {
    const found = `${inFront.get(i) ?? 0} ${inBack.get(i) ?? 0}`;
    const { front: isFront, back: isBack } = sides[ahead[i]];
    const isCut = chosen.has(crossed.groupOf[i]);
    if (!isCut && !isFront && !isBack) loose.set(ahead[i], loose.get(ahead[i]) ?? found);
    const side = isFront ? '1 0' : isBack ? '0 1' : loose.get(ahead[i]);
    if (found !== (isCut ? '0 0' : side)) wrong.push(i);
  }
  expect(wrong).toEqual([]);
  expect([...loose.values()].every((found) => found === '1 0' || found === '0 1')).toBe(true);
  const shells = (mine: 'front' | 'back', found: string) =>
    sides.filter((side) => side[mine]).length + [...loose.values()].filter((one) => one === found).length;
  // A hollow limb's pieces are several over the skin, and hang together by the face.
  expect(countShells(front)).toBeLessThanOrEqual(shells('front', '1 0'));
  expect(countShells(back)).toBeLessThanOrEqual(shells('back', '0 1'));
  expect(new Set([...ahead, ...behind]).size).toBe(sides.length);
  expect(cut.facets[0].uncut.length).toBe(crossed.outlines.filter(({ group }) => !chosen.has(group)).length);
}

const bunnyMesh = (): Mesh => ({
  positions: Float32Array.from(bunny.positions.flat()),
  triangles: Uint32Array.from(bunny.cells.flat()),
});

function armadilloMesh(): Mesh | null {
  const got = obtainArmadillo();
  if ('missing' in got) return null;
  const positions = offSoup(got.off, 200);
  return weld({ positions, triangles: Uint32Array.from({ length: positions.length / 3 }, (_, i) => i) }).mesh;
}

describe('a cut through some of its plane’s outlines', () => {
  const run = (figure: (seed: number) => Mesh, seeds: readonly number[]) => {
    const came = { cut: 0, refused: 0 };
    for (const seed of seeds) {
      try {
        came[judge(trialOf(figure(seed), seed))]++;
      } catch (thrown) {
        throw new Error(`seed ${seed}: ${(thrown as Error).message}`, { cause: thrown });
      }
    }
    return came;
  };

  it('frees the limbs that it goes through, and leaves all else as it was, seeds from 1', () => {
    const figures = [3, 4, 5].map((limbs) => limbed(limbs, limbs));
    const { cut } = run((seed) => figures[seed % 3], sweep(1, 130, 50));
    expect(cut).toBeGreaterThan(34);
  });

  it('does so on the bunny, seeds from 201', () => {
    const mesh = bunnyMesh();
    const { cut } = run(() => mesh, sweep(201, 130, 50));
    expect(cut).toBeGreaterThan(7);
  });

  it('does so on the demo figure, other shells and all, seeds from 401', () => {
    const mesh = buildHeron({ triangles: 20_000 });
    const { cut, refused } = run(() => mesh, sweep(401, 25, 12));
    expect([cut > 2, refused > 2]).toEqual([true, true]);
  });

  const armadillo = armadilloMesh();
  it.skipIf(!armadillo)('does so on a scanned figure, seeds from 501', () => {
    const { cut } = run(() => armadillo!, sweep(501, 15, 6));
    expect(cut).toBeGreaterThan(1);
  });
});
