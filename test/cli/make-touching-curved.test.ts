import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { loadKernel } from '../../src/kernel/load.ts';
import { scoped } from '../../src/kernel/scope.ts';
import { jobText, makeCliFolder, stlOf } from '../support/cli-folder.ts';
import { arc, turnedSolid } from '../support/lathe.ts';
import { answerOf, runCli } from '../support/run-cli.ts';
import type { Polyhedron } from '../support/simple-solids.ts';
import { boxed, distanceTo, samplesOn } from '../support/soup-gap.ts';
import { pick, readSoup, type Soup, soupVolume, triangleKeys, unpairedEdges } from '../support/stl-bytes.ts';
import { trials } from '../support/sweep.ts';
import { solidOf } from '../support/symmetric-difference.ts';

/** Bodies that touch on curved surface, a flat set across it, judged from the files that are written. The figures are invented. */

const folder = makeCliFolder();
afterAll(() => folder.remove());

interface Report {
  parts: { name: string; file: string; closed: boolean; proved: boolean; shells: number }[];
  seams: {
    areaMm2: number;
    pegs: { at: [number, number, number]; widthMm: number; lengthMm: number }[];
    draw: { free: boolean };
    nest?: { gives: string };
    touch?: { areaMm2: number; filledMm3: number };
  }[];
  volume: { residualMm3: number; pegsMm3: number; socketsMm3: number; trimmedMm3: number };
  findings: { code: string; severity: string; message: string }[];
}

const R = 10;
/** A bowl whose hollow is a half ball about the origin, 4 mm thick below and beside. */
const bowl = (hollow: number, around: number, steps: number) =>
  turnedSolid([[0, -14], [14, -14], [14, 0], ...arc(hollow, 90, 180, steps)], around);
const ball = (around: number, steps: number) => turnedSolid(arc(R, 180, 0, steps), around);

/** A solid along y from an outline in x and z, counter-clockwise seen against y, its corners paired first with last. */
function bar(outline: [number, number][], from: number, to: number): Polyhedron {
  const n = outline.length;
  const vertices = [from, to].flatMap((y) => outline.map(([x, z]): [number, number, number] => [x, y, z]));
  const sides = outline.map((_, i) => [i, (i + 1) % n, n + ((i + 1) % n), n + i]);
  const ends = Array.from({ length: n / 2 - 1 }, (_, i) => [i, i + 1, n - 2 - i, n - 1 - i]);
  return {
    vertices,
    faces: [...sides, ...ends.map((end) => [...end].reverse()), ...ends.map((end) => end.map((v) => n + v))],
  };
}
const round = (radius: number, from: number, to: number, steps: number) =>
  Array.from({ length: steps + 1 }, (_, i): [number, number] => {
    const a = ((from + ((to - from) * i) / steps) * Math.PI) / 180;
    return [radius * Math.cos(a), radius * Math.sin(a)];
  });
const mirrored = (solid: Polyhedron): Polyhedron => ({
  vertices: solid.vertices,
  faces: solid.faces.map((face) => [...face].reverse()),
});
/** A bar with a half-round groove along it. */
const groove = (radius: number) => {
  const arcPoints = round(radius, 180, 360, 48);
  const below = Array.from({ length: 49 }, (_, i): [number, number] => [14 - (28 * i) / 48, -14]);
  return mirrored(bar([...arcPoints, ...below], -12, 12));
};
const rod = (from: number, to: number) => mirrored(bar(round(R, 0, 352.5, 47).reverse(), from, to));

const turnedBy = (solid: Polyhedron, turn: (p: [number, number, number]) => [number, number, number]) => ({
  ...solid,
  vertices: solid.vertices.map(turn),
});
/** About x by 30°, then away from the origin. */
const leaning = ([x, y, z]: [number, number, number]): [number, number, number] => {
  const [c, s] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
  return [x + 40, y * c - z * s, y * s + z * c + 20];
};
const upright = (p: [number, number, number]) => p;

async function made(
  name: string,
  bodies: { front: Polyhedron; back: Polyhedron },
  {
    flat,
    pegOn = 'back',
    turn = upright,
    gives,
    also = [],
  }: {
    flat: number;
    pegOn?: 'front' | 'back';
    turn?: typeof leaning;
    gives?: 'front' | 'back';
    /** More bodies, each joined to the back one by where both touch flat. */
    also?: Polyhedron[];
  },
) {
  const files = { back: stlOf(turnedBy(bodies.back, turn)), front: stlOf(turnedBy(bodies.front, turn)) };
  folder.put(`${name} back.stl`, files.back);
  folder.put(`${name} front.stl`, files.front);
  const [at, above] = [turn([0, 0, flat]), turn([0, 0, flat + 1])];
  const normal = above.map((v, k) => v - at[k]);
  const seam = {
    id: 'seat',
    by: {
      kind: 'contact',
      bodies: ['2', '1'],
      flat: { at, normal },
      ...(gives && { gives: gives === 'front' ? '2' : '1' }),
    },
    pegOn,
    names: { front: 'ball', back: 'bowl' },
    joints: [{ id: 'a', kind: 'taper', at: 'auto' }],
  };
  const more = also.map((body, i) => {
    folder.put(`${name} ${i + 3}.stl`, stlOf(turnedBy(body, turn)));
    return {
      id: `foot${i}`,
      by: { kind: 'contact', bodies: ['1', `${i + 3}`] },
      pegOn: 'back',
      names: { front: 'bowl', back: `foot ${i + 1}` },
      joints: [{ id: 'a', kind: 'taper', at: 'auto' }],
    };
  });
  const sculpt = {
    file: `${name} back.stl`,
    also: [`${name} front.stl`, ...also.map((_, i) => `${name} ${i + 3}.stl`)],
  };
  const job = folder.put(`${name}.json`, jobText({ version: 2, sculpt, seams: [seam, ...more] }));
  const run = await runCli(['make', job, '--out', join(folder.path, name)]);
  const report = answerOf<Report>(run);
  const soups = report.parts.map((part) => readSoup(readFileSync(join(folder.path, name, part.file))));
  const before = { front: readSoup(files.front), back: readSoup(files.back) };
  return { report, soups, front: soups[0], back: soups[1], before, at, normal, exitCode: run.exitCode };
}

/** Of a body's triangles that lie wholly where `isThere` says, how many there are and how many its part lacks. */
function keptWhere(isThere: (p: number[]) => boolean, body: Soup, part: Soup) {
  const written = new Set(triangleKeys(part));
  const own = pick(body, (t) =>
    [0, 3, 6].every((corner) => isThere([...body.subarray(t * 9 + corner, t * 9 + corner + 3)])),
  );
  const keys = triangleKeys(own);
  return { count: keys.length, lost: keys.filter((key) => !written.has(key)).length };
}

/** What two written parts have in common, by the kernel, mm³. */
const overlapOf = async (a: Soup, b: Soup) => {
  const kernel = await loadKernel();
  return scoped((own) => {
    const [one, other] = [a, b].map((soup) => solidOf(kernel, own, welded(soup)));
    return own(one.intersect(other)).volume();
  });
};

function welded(soup: Soup) {
  const places = new Map<string, number>();
  const positions: number[] = [];
  const triangles = Uint32Array.from({ length: soup.length / 3 }, (_, i) => {
    const corner = [...soup.subarray(i * 3, i * 3 + 3)];
    const key = corner.join();
    const known = places.get(key) ?? places.size;
    if (known === places.size) positions.push(...corner);
    places.set(key, known);
    return known;
  });
  return { positions: Float32Array.from(positions), triangles };
}

/** Gaps beside and past the peg's tip in the files: from its own part's surface, off the flat and around its axis, to the other's. */
function gapsOf(
  pegged: Soup,
  socketed: Soup,
  { at, widthMm, lengthMm }: Report['seams'][0]['pegs'][0],
  axis: readonly number[],
) {
  const other = boxed(socketed);
  const side: number[] = [];
  const end: number[] = [];
  for (const { point, normal } of samplesOn(pegged)) {
    const off = point.map((v, k) => v - at[k]);
    const up = off.reduce((sum, v, k) => sum + v * axis[k], 0);
    const out = Math.sqrt(Math.max(0, off.reduce((sum, v) => sum + v * v, 0) - up * up));
    if (up < 0.3 || up > lengthMm + 0.01 || out > widthMm) continue;
    const lean = normal.reduce((sum, v, k) => sum + v * axis[k], 0);
    if (lean > 0.999) end.push(distanceTo(other, point));
    else if (Math.abs(lean) < 0.2 && up < lengthMm - 1) side.push(distanceTo(other, point));
  }
  return { side, end };
}

/** Between a flat at height z < 0 and a half ball of R, within a radius: by shells of cylinders, 2π ∫ r (√(R² − r²) + z) dr. */
const underFlat = (z: number, radius: number) =>
  2 * Math.PI * ((R ** 3 - (R ** 2 - radius ** 2) ** 1.5) / 3 + (z * radius ** 2) / 2);

/** Half a hundredth, and what facets stand off what they are of, mm. */
const GAP_SLACK = 0.005 + 0.0015;

describe('make puts a joint on a flat across curved contact', () => {
  const cases: [string, number, number, number, 'front' | 'back', typeof leaning][] = [
    ['of other corners, with the peg on the ball', R, 72, 31, 'front', upright],
    ['0.05 mm apart, leaning', R + 0.05, 72, 31, 'back', leaning],
    ['of the same corners', R, 48, 24, 'back', upright],
    ['overlapping by 0.05 mm', R - 0.05, 72, 31, 'back', upright],
  ];
  for (const [name, hollow, around, steps, pegOn, turn] of cases.slice(0, trials(cases.length, 2))) {
    it(`of a ball in a bowl ${name}`, async () => {
      const bodies = { front: ball(48, 48), back: bowl(hollow, around, steps) };
      const { report, front, back, before, at, normal, exitCode } = await made(name, bodies, {
        flat: -7,
        pegOn,
        turn,
      });
      expect(report.findings.filter(({ severity }) => severity !== 'info')).toEqual([]);
      expect(exitCode).toBe(0);
      expect(report.parts.map((part) => [part.closed, part.proved, part.shells])).toEqual([
        [true, true, 1],
        [true, true, 1],
      ]);
      expect([front, back].map(unpairedEdges)).toEqual([0, 0]);
      expect(await overlapOf(front, back)).toBeLessThan(1e-3);
      const [{ pegs, areaMm2, draw }] = report.seams;
      expect(draw.free).toBe(true);
      // Half a millimetre inside of where the flat comes out of the ball.
      const radius = Math.sqrt(R ** 2 - 7 ** 2) - 0.5;
      expect(Math.abs(areaMm2 - Math.PI * radius ** 2)).toBeLessThan(2);
      const [up, down] = [normal, normal.map((v) => -v)];
      const { side, end } = gapsOf(
        ...(pegOn === 'back'
          ? ([back, front, pegs[0], up] as const)
          : ([front, back, pegs[0], down] as const)),
      );
      expect(side.length).toBeGreaterThan(50);
      expect(end.length).toBeGreaterThan(10);
      expect(Math.min(...side)).toBeGreaterThan(0.12 - GAP_SLACK);
      expect(Math.max(...side)).toBeLessThan(0.12 + GAP_SLACK);
      expect(Math.min(...end)).toBeGreaterThan(0.4 - GAP_SLACK);
      expect(Math.max(...end)).toBeLessThan(0.4 + GAP_SLACK);
      const told = report.findings.find(({ code }) => code === 'flat-hands-over')?.message ?? '';
      const volumeTold = Number(/takes over ([\d.]+) mm³/.exec(told)?.[1]);
      expect(Math.abs(volumeTold - underFlat(-7, radius))).toBeLessThan(4);
      expect(Math.abs(report.volume.residualMm3)).toBeLessThan(1e-2);
      const more = soupVolume(front) + soupVolume(back) - soupVolume(before.front) - soupVolume(before.back);
      const { pegsMm3, socketsMm3, trimmedMm3 } = report.volume;
      expect(Math.abs(more - pegsMm3 + socketsMm3 + trimmedMm3)).toBeLessThan(0.02);
      for (const side of ['front', 'back'] as const) {
        const part = side === 'front' ? front : back;
        // Where facets cross the bowl follows the ball: of its hollow nothing need be as it was.
        const isHollow = side === 'back' && hollow <= R;
        const isThere = (p: number[]) => {
          const off = p.map((v, k) => v - at[k]);
          const up = off.reduce((sum, v, k) => sum + v * normal[k], 0);
          const out = Math.hypot(...off.map((v, k) => v - up * normal[k]));
          return out > radius + 1 && !(isHollow && Math.abs(Math.hypot(out, up - 7) - hollow) < 0.3);
        };
        const { count, lost } = keptWhere(isThere, before[side], part);
        expect(count).toBeGreaterThan(90);
        expect(lost).toBe(0);
      }
    });
  }

  it('of a rod in a groove that is shorter, open at both ends', async () => {
    const bodies = { front: rod(-20, 20), back: groove(R) };
    const { report, front, back, normal } = await made('groove', bodies, { flat: -7 });
    expect(report.findings.filter(({ severity }) => severity !== 'info')).toEqual([]);
    expect([front, back].map(unpairedEdges)).toEqual([0, 0]);
    expect(await overlapOf(front, back)).toBeLessThan(1e-3);
    const { side } = gapsOf(back, front, report.seams[0].pegs[0], normal);
    expect(side.length).toBeGreaterThan(50);
    expect(Math.min(...side)).toBeGreaterThan(0.12 - GAP_SLACK);
    expect(Math.max(...side)).toBeLessThan(0.12 + GAP_SLACK);
    // Nothing of the rod is taken beyond the groove or where it shows at the groove's ends.
    const within = Array.from(front).filter((v, i) => i % 3 === 1 && Math.abs(v) < 19.9);
    expect(within.length).toBeGreaterThan(10);
    expect(Math.max(...within.map(Math.abs))).toBeLessThan(11.6);
  });

  it('of bodies that overlap by 0.05 mm, whichever gives way', async () => {
    const bodies = { front: ball(48, 48), back: bowl(R - 0.05, 72, 31) };
    for (const gives of ['front', 'back'] as const) {
      const { report, front, back, normal } = await made(`given by ${gives}`, bodies, { flat: -7, gives });
      expect(report.findings.filter(({ severity }) => severity !== 'info')).toEqual([]);
      expect([front, back].map(unpairedEdges)).toEqual([0, 0]);
      expect(await overlapOf(front, back)).toBeLessThan(1e-3);
      expect(report.seams[0].nest?.gives).toBe(gives);
      const { side } = gapsOf(back, front, report.seams[0].pegs[0], normal);
      expect(Math.min(...side)).toBeGreaterThan(0.12 - GAP_SLACK);
      expect(Math.max(...side)).toBeLessThan(0.12 + GAP_SLACK);
    }
  });

  it('of a ball in a bowl that stands on a foot', async () => {
    const foot = turnedSolid(
      [
        [0, -30],
        [9, -30],
        [9, -14],
        [0, -14],
      ],
      40,
    );
    const bodies = { front: ball(48, 48), back: bowl(R, 48, 24) };
    const { report, soups } = await made('three', bodies, { flat: -5, also: [foot] });
    expect(report.findings.filter(({ severity }) => severity !== 'info')).toEqual([]);
    expect(soups).toHaveLength(3);
    expect(soups.map(unpairedEdges)).toEqual([0, 0, 0]);
    for (const [a, b] of [
      [0, 1],
      [1, 2],
      [0, 2],
    ])
      expect(await overlapOf(soups[a], soups[b])).toBeLessThan(1e-3);
    expect(report.seams.map(({ pegs }) => pegs.length)).toEqual([1, 1]);
  });

  it('of waves on waves, one over a corner of the other: no two corners of a part round to one place', async () => {
    const waves = (up: number) =>
      Array.from({ length: 41 }, (_, i): [number, number] => {
        const r = (12.691410630941391 * i) / 40;
        return [r, 2 * Math.cos(r * 1.1) + up];
      });
    const rim = 12.691410630941391;
    const bodies = {
      front: turnedSolid([...waves(0.030739808930084114), [rim, 9], [0, 9]], 75),
      back: turnedSolid([[0, -9], [rim, -9], ...waves(0).reverse()], 75),
    };
    const about = [-0.22668103510182586, 0.3708607971400799, 0.9005986772529646];
    const [c, s] = [Math.cos(2.691345233935863), Math.sin(2.691345233935863)];
    const turn = (p: [number, number, number]): [number, number, number] => {
      const [x, y, z] = about;
      const along = x * p[0] + y * p[1] + z * p[2];
      const across = [y * p[2] - z * p[1], z * p[0] - x * p[2], x * p[1] - y * p[0]];
      const [u, v, w] = p.map((q, k) => q * c + across[k] * s + about[k] * along * (1 - c));
      return [u - 29.33390888851136, v + 29.319125125184655, w + 16.35454250033945];
    };
    const { report, front, back } = await made('waves', bodies, { flat: 2.3188816853798926, turn });
    expect(report.parts.map(({ closed, proved }) => [closed, proved])).toEqual([
      [true, true],
      [true, true],
    ]);
    expect([front, back].map(unpairedEdges)).toEqual([0, 0]);
  });
});
