import { beforeAll, describe, expect, it } from 'vitest';
import { jointKind } from '../../src/joint/kinds.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { scoped } from '../../src/kernel/scope.ts';
import { lexiconFor } from '../../src/lexicon/lexicon.ts';
import { meshOf } from '../../src/mesh/part/part.ts';
import { drawSection } from '../../src/pipeline/draw-section.ts';
import { createEvaluator, type Evaluated, type Evaluator } from '../../src/pipeline/evaluate.ts';
import { jointMends } from '../../src/pipeline/joint-mends.ts';
import { jobOf, type PegInput, pegWith, type SeamInput, sculptOf } from '../support/job.ts';
import { isSound } from '../support/seam-fixture.ts';
import { box, fanned, moved, plainVolume, together } from '../support/simple-solids.ts';
import { solidOf } from '../support/symmetric-difference.ts';

/** Joints that are no peg and socket: loose pins and magnets, beside others, on other seams, and where they cannot be. */

let kernel: Kernel;
let block: Evaluator;
beforeAll(async () => {
  kernel = await loadKernel();
  const sculpt = await sculptOf(fanned(box([-20, -20, -20], [20, 20, 20])));
  block = createEvaluator(onlyHere(kernel), sculpt);
});

const made = (...seams: SeamInput[]): Promise<Evaluated> => block.evaluate(jobOf(seams));
const codesOf = ({ evaluation }: Evaluated) => evaluation.findings.map(({ code }) => code);
const pin = (x: number, y = 0, sizes: Partial<PegInput> = {}): PegInput => ({
  kind: 'pin',
  at: [x, y, 0],
  diameterMm: 4,
  depthMm: 6,
  ...sizes,
});
const magnet = (x: number, y = 0, sizes: Partial<PegInput> = {}): PegInput => ({
  kind: 'magnet',
  at: [x, y, 0],
  diameterMm: 5,
  thicknessMm: 2,
  ...sizes,
});

describe('sizes that are offered', () => {
  it('are the nominal diameters of parallel pins (ISO 2338; read in a secondary copy)', () => {
    const diameters = jointKind('pin').offered!.map(({ diameterMm }) => diameterMm);
    expect(diameters).toEqual([0.6, 0.8, 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 40, 50]);
  });

  it('are the discs that are sold (common practice)', () => {
    const discs = jointKind('magnet').offered!.map(
      ({ diameterMm, thicknessMm }) => `${diameterMm}×${thicknessMm}`,
    );
    expect(discs.join(' ')).toBe('2×1 3×1 3×2 4×1 4×2 5×1 5×2 5×3 6×2 6×3 8×2 8×3 10×2 10×3');
  });

  it.each(['pin', 'magnet'])(
    'come out of a job as they are asked for: each %s that the block holds',
    async (kind) => {
      for (const sizes of jointKind(kind).offered!.filter(({ diameterMm }) => diameterMm <= 12)) {
        const { evaluation } = await made({ pegs: [{ kind, at: [0, 0, 0], ...sizes, sideGapMm: 0.1 }] });
        const [{ settled, outlines, sideGapMm }] = evaluation.seams[0].joints;
        expect(settled).toMatchObject(sizes);
        const added = outlines.find(({ does }) => does === 'add')!.outline;
        const xs = [...added].filter((_, i) => i % 2 === 0);
        expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(sizes.diameterMm, 5);
        expect(Math.abs(sideGapMm!.mean - 0.1)).toBeLessThan(0.002);
        expect(evaluation.findings.filter(({ severity }) => severity !== 'info')).toEqual([]);
      }
    },
    60_000,
  );

  it('are what joints that are left to the engine get: the largest there is room for', async () => {
    const narrow = await sculptOf(fanned(box([-6, -6, -20], [6, 6, 20])));
    const evaluator = createEvaluator(onlyHere(await loadKernel()), narrow);
    for (const kind of ['pin', 'magnet']) {
      const { evaluation } = await evaluator.evaluate(jobOf([{ pegs: [{ kind, at: 'auto' }] }]));
      const [{ settled, wallMm, way }] = evaluation.seams[0].joints;
      expect(jointKind(kind).offered!.map(({ diameterMm }) => diameterMm)).toContain(settled.diameterMm);
      expect([settled.diameterMm, way]).toEqual([5, 'local']);
      expect(wallMm.min).toBeGreaterThan(1.2 - 1e-5);
    }
  });

  it('are tried where a joint is in the way of something: the next smaller ones', async () => {
    const seams = [{ pegs: [pin(0, 0, { diameterMm: 8 }), pin(8, 0, { diameterMm: 8, id: 'b' })] }];
    const mends = await jointMends((job) => block.evaluate(job), jobOf(seams), 'neck', 'b');
    const smaller = mends.find(({ sizes }) => sizes.some(({ name }) => name === 'diameterMm'));
    expect(smaller!.sizes).toEqual([{ name: 'diameterMm', mm: 5, nowMm: 8 }]);
  });
});

describe('what cannot be made', () => {
  it.each([
    [pin(0, 0, { edgeRadiusMm: 2 }), 'edge-radius', { mostEdgeRadiusMm: 1.95 }],
    [pin(0, 0, { depthMm: 0.4, edgeRadiusMm: 0.5 }), 'too-short', { leastLengthMm: 0.55 }],
    [magnet(0, 0, { coverMm: 0.1 }), 'cover-thin', { leastCoverMm: 0.2 }],
    [magnet(0, 0, { thicknessMm: 0.3, sideGapMm: 1, endGapMm: 0.1 }), 'too-short', { leastLengthMm: 0.95 }],
  ])('is told with what would do: %j', async (peg, reason, would) => {
    const done = await made({ pegs: [peg] });
    const [{ facts }] = done.evaluation.findings.filter(({ code }) => code === 'peg-shape-impossible');
    expect(facts).toMatchObject({ reason, would });
    expect(done.evaluation.parts.map(({ ofJoint }) => ofJoint)).toEqual([undefined, undefined]);
    const [name, mm] = Object.entries({
      ...('mostEdgeRadiusMm' in would && { edgeRadiusMm: would.mostEdgeRadiusMm }),
      ...('leastCoverMm' in would && { coverMm: would.leastCoverMm }),
      ...('leastLengthMm' in would && {
        [peg.kind === 'pin' ? 'depthMm' : 'thicknessMm']: would.leastLengthMm,
      }),
    })[0];
    expect(codesOf(await made({ pegs: [{ ...peg, [name]: mm }] }))).not.toContain('peg-shape-impossible');
  });
});

describe('how parts sit', () => {
  /**
   * What is in the way (mm³, by the kernel) of the front with its pegs, turned about an axis square to the face through a
   * point of it, where all pins stand in the back.
   */
  function inTheWay({ tree }: Evaluated, turnDeg: number, about: readonly [number, number] = [0, 0]): number {
    const [front, ...rest] = tree.parts.map(({ part }) => meshOf(part));
    const turn = (turnDeg * Math.PI) / 180;
    const positions = front.positions.slice();
    for (let i = 0; i < positions.length; i += 3) {
      const [x, y] = [positions[i] - about[0], positions[i + 1] - about[1]];
      positions[i] = about[0] + Math.cos(turn) * x - Math.sin(turn) * y;
      positions[i + 1] = about[1] + Math.sin(turn) * x + Math.cos(turn) * y;
    }
    return scoped((own) => {
      const moved = solidOf(kernel, own, { positions, triangles: front.triangles });
      const volumes = rest.map((mesh) => own(moved.intersect(solidOf(kernel, own, mesh))).volume());
      return volumes.reduce((a, b) => a + b, 0);
    });
  }

  /** Rounding of single precision over a face of 40 mm. */
  const NOTHING = 0.01;
  const told = ({ evaluation: { seams, findings } }: Evaluated) =>
    [seams[0].oneWay, findings.some(({ code }) => code === 'seats-more-than-one-way')] as const;

  it('a pin alone lets them turn by any angle about it, as the kernel has it', async () => {
    const one = await made({ pegs: [pin(3, 2)] });
    expect(told(one)).toEqual([false, true]);
    for (const deg of [0, 11, 90, 137, 180])
      expect(inTheWay(one, deg, [3, 2]), `${deg}°`).toBeLessThan(NOTHING);
    expect(inTheWay(one, 90)).toBeGreaterThan(1);
  });

  it('two equal pins let them sit after half a turn and in no other, of unlike ones not even so', async () => {
    const equal = await made({ pegs: [pin(-8), pin(8)] });
    expect(told(equal)).toEqual([false, true]);
    const unlike = await made({ pegs: [pin(-8), pin(8, 0, { diameterMm: 6 })] });
    expect(told(unlike)).toEqual([true, false]);
    for (const both of [equal, unlike]) {
      expect(inTheWay(both, 0)).toBeLessThan(NOTHING);
      for (const deg of [45, 90, 270]) expect(inTheWay(both, deg), `${deg}°`).toBeGreaterThan(1);
    }
    expect(inTheWay(equal, 180)).toBeLessThan(NOTHING);
    expect(inTheWay(unlike, 180)).toBeGreaterThan(1);
  });

  it('a pin beside a peg lets them sit in one way, where neither goes into the other’s socket', async () => {
    const square = pegWith({ at: [8, 0, 0], widthMm: 5, heightMm: 5, draftDeg: 0 });
    const both = await made({ pegs: [pin(-8), square] });
    expect(told(both)).toEqual([true, false]);
    expect(inTheWay(both, 0)).toBeLessThan(NOTHING);
    for (const deg of [90, 180, 270]) expect(inTheWay(both, deg), `${deg}°`).toBeGreaterThan(1);
    for (const deg of [90, 270]) expect(inTheWay(both, deg, [8, 0]), `${deg}°`).toBeGreaterThan(1);
  });

  it('magnets let them sit in any way, whichever way round they lie: what repels goes together as well', async () => {
    const some = await made({ pegs: [magnet(-8), magnet(8, 3, { diameterMm: 8 })] });
    expect(told(some)).toEqual([false, true]);
    for (const deg of [0, 77, 180]) expect(inTheWay(some, deg), `${deg}°`).toBeLessThan(NOTHING);
    const sentence = lexiconFor(['en']).finding(
      some.evaluation.findings.find(({ code }) => code === 'seats-more-than-one-way')!,
    );
    expect(sentence).toContain('add a peg, or pins');
  });

  it('a pin alone lets them turn, two of one size let them sit in two ways, two of two sizes in one', async () => {
    const oneWay = async (...pegs: PegInput[]) => (await made({ pegs })).evaluation.seams[0].oneWay;
    expect(await oneWay(pin(0))).toBe(false);
    expect(await oneWay(pin(-8), pin(8))).toBe(false);
    expect(await oneWay(pin(-8), pin(8, 0, { diameterMm: 6 }))).toBe(true);
    expect(await oneWay(pin(-8), pin(2), pin(8, 8))).toBe(true);
  });

  it('magnets say nothing of it', async () => {
    const oneWay = async (...pegs: PegInput[]) => (await made({ pegs })).evaluation.seams[0].oneWay;
    expect(await oneWay(magnet(0))).toBe(false);
    expect(await oneWay(magnet(-8), magnet(8, 3, { diameterMm: 8 }))).toBe(false);
    const key = pegWith({ at: [0, 0, 0], widthMm: 6, heightMm: 4 });
    expect(await oneWay(key)).toBe(await oneWay(key, magnet(10, 5)));
    const uneven = [pin(-8), pin(8, 0, { diameterMm: 6 })];
    expect(await oneWay(...uneven, magnet(0, 9))).toBe(true);
  });
});

describe('neighbours', () => {
  it('a peg, a pin and a magnet too near each other are told, in sound parts', async () => {
    for (const other of [pin(4), magnet(4), pegWith({ at: [4, 0, 0] })]) {
      const near = await made({ pegs: [pin(0), other] });
      expect(codesOf(near), other.kind).toContain('pegs-too-close');
      expect(near.tree.parts.every(({ part }) => isSound(part))).toBe(true);
      const far = await made({ pegs: [pin(0), { ...other, at: [9, 0, 0] }] });
      expect(codesOf(far), other.kind).not.toContain('pegs-too-close');
    }
  });

  it('a hollow over a short socket is not in its way, and is where they meet', async () => {
    const short = pegWith({ at: [0, 0, 0], lengthMm: 2, draftDeg: 0, endGapMm: 0.3 });
    const over = (coverMm: number) => made({ pegs: [short, magnet(0, 0, { coverMm })] });
    const clear = await over(2.5);
    expect(codesOf(clear)).not.toContain('pegs-too-close');
    expect(clear.evaluation.parts.map(({ shells }) => shells)).toEqual([2, 2]);
    const [, hollow] = clear.evaluation.seams[0].joints;
    expect(hollow.wallMm.min).toBeCloseTo(0.2, 5);
    expect(codesOf(clear)).toContain('wall-thin');
    expect(codesOf(await over(2))).toContain('pegs-too-close');
  });

  it('a pin through another seam’s face is told, with how much of the rod stands beyond', async () => {
    const second: SeamInput = { id: 'second', of: 'neck.front', offsetMm: 5 };
    const through = await made({ pegs: [pin(0)] }, second);
    const crossing = through.evaluation.findings.find(({ code }) => code === 'joint-crosses-seam')!;
    // A cylinder 0.6 high, and the rounded end: a disc with a quarter of a torus about it (Pappus).
    const end = 1.6 ** 2 * 0.4 + (Math.PI / 2) * 1.6 * 0.4 ** 2 + (2 / 3) * 0.4 ** 3;
    const beyond = Math.PI * (4 * 0.6 + end);
    expect((crossing.facts as { overlapMm3: number }).overlapMm3).toBeCloseTo(beyond, 1);
    expect(codesOf(await made({ pegs: [pin(0)] }, { ...second, offsetMm: 8 }))).not.toContain(
      'joint-crosses-seam',
    );
    const back: SeamInput = { id: 'second', of: 'neck.back', offsetMm: -5 };
    expect(codesOf(await made({ pegs: [pin(0)] }, back))).toContain('joint-crosses-seam');
  });

  it.each([
    ['pin', pin(0), 6.4],
    ['magnet', magnet(0, 0, { coverMm: 0.5 }), 2.9],
  ] as const)('the skin behind either pocket of a %s is seen, and where', async (_, peg, depthMm) => {
    for (const up of [1, -1]) {
      const under = (mm: number) => {
        const offsetMm = up * (20 - depthMm - mm);
        return made({ offsetMm, pegs: [{ ...peg, at: [0, 0, offsetMm] }] });
      };
      const thin = await under(0.7);
      const { wallMm } = thin.evaluation.seams[0].joints[0];
      expect(wallMm.min).toBeCloseTo(0.7, 4);
      expect(wallMm.at[2]).toBeCloseTo(up * 20, 4);
      expect(thin.evaluation.findings.find(({ code }) => code === 'wall-thin')!.at![2]).toBeCloseTo(
        up * 20,
        4,
      );
      const broken = await under(-0.3);
      const found = broken.evaluation.findings.filter(({ code }) => code === 'socket-breaks-skin');
      expect(found).toHaveLength(1);
      expect(found[0]).toMatchObject({ severity: 'error', jointId: 'a' });
      const open = broken.evaluation.seams[0].joints[0].wallMm;
      expect(open.min).toBeLessThan(0.01);
      expect(open.at[2]).toBeCloseTo(up * 20, 1);
      expect(codesOf(await under(1.3))).not.toContain('wall-thin');
    }
  });

  it('a magnet’s pocket through the skin behind it is told', async () => {
    const deep = (coverMm: number) =>
      made({ pegs: [magnet(0, 0, { coverMm, thicknessMm: 2, endGapMm: 0.4 })] });
    expect(codesOf(await deep(17.7))).toContain('socket-breaks-skin');
    const thin = await deep(17);
    expect(codesOf(thin)).toContain('wall-thin');
    expect(thin.evaluation.seams[0].joints[0].wallMm.min).toBeCloseTo(0.6, 5);
  });
});

describe('on other seams', () => {
  const bodies: [string, string] = ['body:1', 'body:2'];

  async function contactOf(peg: PegInput, apartMm: number) {
    const lower = fanned(box([-10, -10, -20], [10, 10, 0]));
    const upper = moved(fanned(box([-10, -10, 0], [10, 10, 20])), [0, 0, apartMm]);
    const evaluator = createEvaluator(onlyHere(await loadKernel()), await sculptOf(together(lower, upper)));
    return evaluator.evaluate(jobOf([{ bodies, pegs: [peg] }]));
  }

  it('bodies that touch a little apart: the gaps are those asked for, the rims on both own faces', async () => {
    const apart = 0.06;
    const done = await contactOf(pin(0, 0, { at: [0, 0, apart / 2] }), apart);
    const [joint] = done.evaluation.seams[0].joints;
    expect(done.evaluation.parts.map(({ closed }) => closed)).toEqual([true, true, true]);
    expect(Math.abs(joint.sideGapMm!.mean - 0.12)).toBeLessThan(0.002);
    expect(Math.abs(joint.endGapMm!.mean - 0.4)).toBeLessThan(0.002);
    expect(Math.abs(done.evaluation.volume.residualMm3)).toBeLessThan(0.01);
    const heights = done.tree.parts.slice(0, 2).map(({ part }) => {
      const { positions, triangles } = meshOf(part, ({ kind }) => kind === 'joint');
      return [...triangles].map((v) => positions[v * 3 + 2]);
    });
    const spans = heights.map((zs) => Math.max(...zs) - Math.min(...zs));
    for (const span of spans) expect(span).toBeCloseTo(6.4 - apart / 2, 4);
  });

  it('bodies that touch a little apart: a cover is as thick as asked for in both', async () => {
    const apart = 0.06;
    const done = await contactOf(magnet(0, 0, { at: [0, 0, apart / 2], coverMm: 0.6 }), apart);
    expect(done.evaluation.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    for (const { part } of done.tree.parts) {
      const zs = (kind: 'joint' | 'face') => {
        const { positions, triangles } = meshOf(part, (of) => of.kind === kind);
        return [...triangles].map((v) => positions[v * 3 + 2]);
      };
      const face = zs('face')[0];
      const nearest = Math.min(...zs('joint').map((z) => Math.abs(z - face)));
      expect(nearest).toBeCloseTo(0.6, 4);
      expect(isSound(part)).toBe(true);
    }
  });

  it('swept lines: magnets on faces that lean apart lock nothing, pins there do', async () => {
    const line = [
      [-30, 0, -6],
      [0, 0, 6],
      [30, 0, -6],
    ] as const;
    const on = (kind: PegInput['kind']): PegInput[] =>
      [-10, 10].map((x) => ({ kind, at: [x, 0, 2], diameterMm: 4 }));
    const locked = await made({ line, pegs: on('pin') });
    expect(codesOf(locked)).toContain('draw-locked');
    const free = await made({ line, pegs: on('magnet') });
    expect(codesOf(free)).not.toContain('draw-locked');
    expect(free.evaluation.seams[0].draw.free).toBe(true);
    expect(free.evaluation.seams[0].joints.map(({ facet }) => facet)).toEqual([0, 1]);
    const one = await made({ line, pegs: [on('pin')[0], on('magnet')[1]] });
    expect(codesOf(one)).not.toContain('draw-locked');
  });
});

describe('the loose part', () => {
  it('goes by its seam and joint, wherever else ids have dots and strokes', async () => {
    const { evaluation } = await made({ id: 'a/b', pegs: [{ ...pin(0), id: 'c.front' }] });
    expect(evaluation.parts[2]).toMatchObject({
      id: 'joint:a%2fb/c%2efront',
      name: 'a/b pin c.front',
      ofJoint: { seamId: 'a/b', jointId: 'c.front' },
    });
  });

  it('is the same triangles again while its joint stands as it does', async () => {
    const first = await made({ pegs: [pin(0), pegWith({ at: [10, 0, 0] })] });
    const again = await made({ pegs: [pin(0), pegWith({ at: [11, 0, 0] })] });
    expect(again.tree.parts[2].part).toBe(first.tree.parts[2].part);
  });

  it('counts as added, so that nothing is left over', async () => {
    const { evaluation, tree } = await made({ pegs: [pin(0), magnet(10)] });
    const { pegsMm3, socketsMm3, residualMm3 } = evaluation.volume;
    const rod = plainVolume(meshOf(tree.parts[2].part));
    expect(pegsMm3).toBeCloseTo(rod, 3);
    expect(socketsMm3).toBeGreaterThan(rod);
    expect(Math.abs(residualMm3)).toBeLessThan(1e-3);
  });
});

describe('in section', () => {
  it('a pin is drawn whole with both sockets, by hand', async () => {
    const { tree } = await made({ pegs: [pin(3, -2, { edgeRadiusMm: 0.5, sideGapMm: 0.2, endGapMm: 0.5 })] });
    const section = drawSection(tree, { seamId: 'neck', jointId: 'a', across: 'width' }, [0, 0, 0])!;
    const spanOf = (line: Float64Array, axis: 0 | 1) => {
      const values = [...line].filter((_, i) => i % 2 === axis);
      return [Math.min(...values), Math.max(...values)].map((v) => Number(v.toFixed(4)));
    };
    expect(section.loose).toHaveLength(1);
    expect([spanOf(section.loose[0], 0), spanOf(section.loose[0], 1)]).toEqual([
      [-2, 2],
      [-6, 6],
    ]);
    expect([spanOf(section.socketProfile, 0), spanOf(section.socketProfile, 1)]).toEqual([
      [-2.2, 2.2],
      [0, 6.5],
    ]);
    expect(section.further.map((fit) => [spanOf(fit.pegProfile, 1), spanOf(fit.socketProfile, 1)])).toEqual([
      [
        [-6, 0],
        [-6.5, 0],
      ],
    ]);
  });

  it('magnets under a cover are drawn in their pockets, which begin on their floor', async () => {
    const { tree } = await made({ pegs: [magnet(3, -2, { coverMm: 0.6, sideGapMm: 0.2, endGapMm: 0.5 })] });
    const section = drawSection(tree, { seamId: 'neck', jointId: 'a', across: 'height' }, [0, 0, 0])!;
    const ends = (line: Float64Array) =>
      [...line.slice(0, 2), ...line.slice(-2)].map((v) => Number(v.toFixed(4)));
    expect([section.footMm, section.further[0].footMm]).toEqual([0.6, -0.6]);
    expect(ends(section.pegProfile)).toEqual([-2.5, 0.6, 2.5, 0.6]);
    expect(ends(section.socketProfile)).toEqual([-2.7, 0.6, 2.7, 0.6]);
    expect(ends(section.further[0].socketProfile)).toEqual([-2.7, -0.6, 2.7, -0.6]);
    expect(section.loose).toHaveLength(2);
    // Each part: its outline, and the hollow in it.
    expect([section.pegged.length, section.socketed.length]).toEqual([2, 2]);
  });
});
