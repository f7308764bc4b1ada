import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { PegwrightError } from '../../src/errors.ts';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { turnAbout, turned, turnedVec } from '../../src/math/quaternion.ts';
import { normalize } from '../../src/math/vec3.ts';
import type { Job } from '../../src/model/job.ts';
import type { SeamSpec } from '../../src/model/seam-schema.ts';
import { planeSeam, throughOf, withThrough } from '../../src/model/seam-spec.ts';
import type { Glimpse, PartView, Reply, Request } from '../../src/worker/protocol.ts';
import { createSession, type OnGlimpse, type Session } from '../../src/worker/session.ts';
import { lumpySphere } from '../support/figures.ts';
import { jobOf } from '../support/job.ts';
import { fanned, moved, box as solidBox } from '../support/simple-solids.ts';
import { isClosedStl } from '../support/stl-check.ts';

const FIGURE = moved(lumpySphere(6, 15, 3, 0.2), [100, 50, 20]);
const stlOf = (mesh: typeof FIGURE) => new Blob([writeStlBinary(mesh, [0, 0, 0]) as Uint8Array<ArrayBuffer>]);
/** With a hole too large to be filled unasked. */
const HOLED = { ...FIGURE, triangles: FIGURE.triangles.slice(FIGURE.triangles.length / 4) };
const JOB = jobOf([
  { offsetMm: 20, pegs: [{ kind: 'taper', at: [100, 50, 20], widthMm: 5, heightMm: 4, lengthMm: 4 }] },
]);

let nextId = 1;
async function ask<T extends Reply['type']>(
  session: Session,
  type: T,
  request: object,
  onGlimpse?: OnGlimpse,
): Promise<Extract<Reply, { type: T }>> {
  const id = nextId++;
  const reply = await session.answer({ id, ...request } as Request, () => {}, onGlimpse);
  if (reply.type !== type) throw new Error(`answered ${reply.type}`);
  expect(reply.id).toBe(id);
  return reply as Extract<Reply, { type: T }>;
}

const open = (session: Session, file: Blob, name = 'figure.stl', onGlimpse?: OnGlimpse) =>
  ask(session, 'opened', { type: 'open', files: [{ name, blob: file }], unit: 'mm', scale: 1 }, onGlimpse);
const evaluate = (session: Session, job: Job, held: string[] = [], focus: object | null = null) =>
  ask(session, 'evaluated', { type: 'evaluate', job, focus, held });

/** The code a promise is refused with. */
const refusalOf = (promise: Promise<unknown>): Promise<unknown> =>
  promise.then(
    () => null,
    (thrown: PegwrightError) => thrown.code,
  );

describe('a session', () => {
  it('writes the parts of a figure far out where the file holds them, as its view says', async () => {
    const session = createSession(onlyHere);
    await open(session, stlOf(moved(lumpySphere(6, 15, 3, 0.2), [200_000, 50, 20])));
    const job = jobOf([{ normal: [1, 0, 0], offsetMm: 200_000.3 }]);
    const { view } = await evaluate(session, job);
    expect(view.movedMm[0]).toBeLessThan(-199_000);
    expect(view.findings.map(({ code }) => code)).toContain('parts-moved');
    const { file } = await ask(session, 'exported', { type: 'export', job, partId: 'neck.back' });
    const { closed, min } = isClosedStl(new Uint8Array(await file.arrayBuffer()));
    const back = view.parts.find(({ id }) => id === 'neck.back')!;
    expect(closed).toBe(true);
    expect(min[0]).toBeCloseTo(back.boundsMm.min[0] + view.movedMm[0], 3);
  });

  it('opens, evaluates and exports', async () => {
    const session = createSession(onlyHere);
    const { summary } = await open(session, stlOf(FIGURE));
    expect(summary).toMatchObject({
      file: 'figure.stl',
      format: 'stl',
      unit: 'mm',
      triangles: 1280,
      vertices: 642,
      shells: 1,
      findings: [],
      declaredUnit: null,
      solid: true,
    });
    const { view } = await evaluate(session, JOB, [], { seamId: 'neck', jointId: 'a', across: 'width' });
    expect(view.parts.map(({ id, pegged, away }) => [id, pegged, away[2]])).toEqual([
      ['neck.front', false, 0.5],
      ['neck.back', true, -0.5],
    ]);
    expect(view.section?.pegProfile.length).toBeGreaterThan(10);
    expect(view.contours.neck[0].map(({ wallMm }) => wallMm)).toEqual([1.2, 2.4, 4.8]);
    const { name, file } = await ask(session, 'exported', { type: 'export', job: JOB, partId: null });
    expect(name).toBe('figure-parts.zip');
    const files = unzipSync(new Uint8Array(await file.arrayBuffer()));
    expect(Object.keys(files)).toEqual(['figure-neck-front.stl', 'figure-neck-back.stl']);
    Object.values(files).forEach((stl, i) => {
      const { closed, triangles, volume, min } = isClosedStl(stl);
      expect([closed, triangles]).toEqual([true, view.parts[i].triangles]);
      expect(Math.abs(volume - view.parts[i].volumeMm3)).toBeLessThan(1e-4 * volume);
      // Back where the file had it.
      min.forEach((v, k) => {
        expect(v).toBeCloseTo(view.parts[i].boundsMm.min[k], 4);
      });
    });
    const single = await ask(session, 'exported', { type: 'export', job: JOB, partId: 'neck.back' });
    expect(single.name).toBe('figure-neck-back.stl');
    expect(
      Buffer.compare(new Uint8Array(await single.file.arrayBuffer()), files['figure-neck-back.stl']),
    ).toBe(0);
  });

  it('sends a skin once, and none that the page holds', async () => {
    const session = createSession(onlyHere);
    await open(session, stlOf(FIGURE));
    const first = (await evaluate(session, JOB)).view.parts;
    expect(first.every(({ skins }) => skins.length === 1 && skins[0].mesh !== null)).toBe(true);
    const held = first.flatMap(({ skins }) => skins.map(({ key }) => key));
    expect(new Set(held).size).toBe(2);
    const pegMoved: Job = {
      ...JOB,
      seams: [{ ...JOB.seams[0], joints: [{ ...JOB.seams[0].joints[0], at: [101, 50, 20] }] }],
    };
    const second = (await evaluate(session, pegMoved, held)).view.parts;
    expect(second.flatMap(({ skins }) => skins)).toEqual(held.map((key) => ({ key, mesh: null })));
    expect(second.every(({ lid }) => lid.mesh !== null && lid.mesh.triangles.length > 0)).toBe(true);
    const seamMoved: Job = {
      ...JOB,
      seams: [{ ...JOB.seams[0], by: planeSeam([0, 0, 1], 21) }],
    };
    const third = (await evaluate(session, seamMoved, held)).view.parts;
    expect(third.every(({ skins: [{ key, mesh }] }) => mesh !== null && !held.includes(key))).toBe(true);
  });

  it('sends of a skin that a joint was worked into what was worked alone', async () => {
    const session = createSession(onlyHere);
    await open(session, stlOf(FIGURE));
    const pegAt = (x: number): Job => {
      const joints = [{ ...JOB.seams[0].joints[0], at: [x, 50, 20] as const }];
      return { ...JOB, seams: [{ ...JOB.seams[0], joints }] };
    };
    const first = await evaluate(session, pegAt(112.5));
    expect(first.view.seams[0].joints[0].way).toBe('collar');
    const held = first.view.parts.flatMap(({ skins }) => skins.map(({ key }) => key));
    const worked = first.view.parts.filter(({ skins }) => skins.length === 2);
    expect(worked.length).toBeGreaterThan(0);
    const { parts } = (await evaluate(session, pegAt(112.75), held)).view;
    for (const { id, skins } of worked) {
      const now = parts.find((part) => part.id === id)!.skins;
      expect(now[0]).toEqual({ key: skins[0].key, mesh: null });
      expect(now[1].mesh!.triangles.length).toBeLessThan(skins[0].mesh!.triangles.length);
    }
  });

  it('answers with arrays of its own, so that they may leave it', async () => {
    const session = createSession(onlyHere);
    await open(session, stlOf(FIGURE), 'figure.stl', ({ mesh }) => mesh.positions.fill(0));
    const one = (await evaluate(session, JOB)).view.parts;
    const volumes = one.map(({ volumeMm3 }) => volumeMm3);
    const meshesOf = ({ skins, lid }: PartView) => [...skins, lid].map(({ mesh }) => mesh);
    for (const mesh of one.flatMap(meshesOf)) mesh?.positions.fill(Number.NaN);
    const two = (await evaluate(session, JOB)).view.parts;
    expect(two.map(({ volumeMm3 }) => volumeMm3)).toEqual(volumes);
    for (const mesh of two.flatMap(meshesOf)) expect(mesh?.positions.every(Number.isFinite)).toBe(true);
  });

  it('shows a figure as soon as its places are known, and sends its mesh once', async () => {
    const session = createSession(onlyHere);
    const seen: Glimpse[] = [];
    const sound = await open(session, stlOf(FIGURE), 'figure.stl', (glimpse) => seen.push(glimpse));
    expect(sound.mesh).toBeNull();
    expect(seen).toHaveLength(1);
    expect(seen[0].mesh.positions).toHaveLength(642 * 3);
    expect(seen[0].mesh.normals).toHaveLength(642 * 3);
    expect(seen[0].originMm).toEqual(sound.summary.originMm);
    expect(seen[0].boundsMm).toEqual(sound.summary.boundsMm);
    const doubled = {
      ...FIGURE,
      triangles: Uint32Array.of(...FIGURE.triangles, ...FIGURE.triangles.slice(0, 3)),
    };
    const mended = await open(session, stlOf(doubled), 'doubled.stl', (glimpse) => seen.push(glimpse));
    expect(seen[1].mesh.triangles).toHaveLength(1281 * 3);
    expect(mended.mesh?.triangles).toHaveLength(1280 * 3);
  });

  it('opens several files as one figure, a body each', async () => {
    const session = createSession(onlyHere);
    const files = [0, 40].map((x, i) => ({ name: `${i}.stl`, blob: stlOf(moved(FIGURE, [x, 0, 0])) }));
    const { summary } = await ask(session, 'opened', { type: 'open', files, unit: 'mm', scale: 1 });
    expect(summary).toMatchObject({ file: '0.stl', triangles: 2560, solid: true });
    expect(summary.bodies.map(({ triangleCount }) => triangleCount)).toEqual([1280, 1280]);
  });

  it('opens a figure that is no solid, examines it, and refuses to cut it with the reason', async () => {
    const session = createSession(onlyHere);
    const { summary } = await open(session, stlOf(HOLED), 'holed.stl');
    expect(summary.solid).toBe(false);
    expect(summary.findings).toMatchObject([{ code: 'open-edges', severity: 'error' }]);
    const { health } = await ask(session, 'examined', { type: 'health' });
    expect(health.defects).toMatchObject([{ kind: 'open-edges', count: 1 }]);
    expect(await refusalOf(evaluate(session, JOB))).toBe('mesh-not-closed');
    expect(await refusalOf(ask(session, 'exported', { type: 'export', job: JOB, partId: null }))).toBe(
      'mesh-not-closed',
    );
  });

  it('tries a change of shape and leaves the figure as it was', async () => {
    const session = createSession(onlyHere);
    const { summary } = await open(session, stlOf(HOLED), 'holed.stl');
    const mend = { do: 'fill-holes', how: 'flat' } as const;
    const { trial } = await ask(session, 'tried', { type: 'try-mend', mend });
    expect(trial.solid).toBe(true);
    expect(trial.repairs).toMatchObject([{ code: 'holes-filled', count: 1 }]);
    expect(trial.triangles).toBeGreaterThan(summary.triangles);
    expect(await refusalOf(evaluate(session, JOB))).toBe('mesh-not-closed');
    // What is accepted comes to what was tried.
    const files = [{ name: 'holed.stl', blob: stlOf(HOLED) }];
    const opened = await ask(session, 'opened', { type: 'open', files, unit: 'mm', scale: 1, mend: [mend] });
    expect(opened.summary).toMatchObject({ ...trial });
    const nothing = await ask(session, 'tried', { type: 'try-mend', mend });
    expect(nothing.trial).toMatchObject({ repairs: [], triangles: trial.triangles, solid: true });
  });

  it('estimates a new skin of a given cell, or of one that suits the figure', async () => {
    const session = createSession(onlyHere);
    await open(session, stlOf(HOLED), 'holed.stl');
    const given = await ask(session, 'estimated', { type: 'estimate', cellMm: 1 });
    const finer = await ask(session, 'estimated', { type: 'estimate', cellMm: 0.5 });
    expect(finer.estimate.cells / given.estimate.cells).toBeCloseTo(4, 1);
    const { cellMm } = (await ask(session, 'estimated', { type: 'estimate', cellMm: null })).estimate;
    expect(cellMm).toBeGreaterThan(given.estimate.leastCellMm);
    expect(cellMm).toBeLessThan(30);
  });

  it('says which side a tilted figure would stand on', async () => {
    const session = createSession(onlyHere);
    const by = turnAbout(normalize([1, 2, 0]), 20);
    const box = moved(fanned(solidBox([-10, -10, 0], [10, 10, 50])), [5, 0, 0]);
    const positions = Float32Array.from(turned(box.positions, by));
    await open(session, stlOf({ ...box, positions }));
    const { down } = await ask(session, 'rested', { type: 'rest' });
    turnedVec([0, 0, -1], by).forEach((c, k) => {
      expect(down?.[k]).toBeCloseTo(c, 5);
    });
  });

  it('keeps the figure that was open when another cannot be opened', async () => {
    const session = createSession(onlyHere);
    await open(session, stlOf(FIGURE));
    const before = (await evaluate(session, JOB)).view.volume;
    for (const [file, name, code] of [
      [new Blob([]), 'nothing.stl', 'file-empty'],
      [new Blob(['neither fish nor flesh']), 'words.stl', 'format-unknown'],
    ] as const) {
      const failure = await open(session, file, name).catch((thrown: unknown) => thrown);
      expect(failure).toBeInstanceOf(PegwrightError);
      expect((failure as PegwrightError).code).toBe(code);
      expect((await evaluate(session, JOB)).view.volume).toEqual(before);
    }
  });

  it('mends as asked on opening, and examines what is open', async () => {
    const session = createSession(onlyHere);
    const opened = await ask(session, 'opened', {
      type: 'open',
      files: [{ name: 'holed.stl', blob: stlOf(HOLED) }],
      unit: 'mm',
      scale: 1,
      mend: [{ do: 'fill-holes', how: 'flat' }],
    });
    expect(opened.summary.repairs).toMatchObject([{ code: 'holes-filled', count: 1 }]);
    expect(opened.summary.bodies).toEqual([{ name: '', triangleCount: opened.summary.triangles }]);
    const { health } = await ask(session, 'examined', { type: 'health' });
    expect(health.crossingsComplete).toBe(true);
    expect(health.defects.map(({ kind }) => kind)).not.toContain('open-edges');
  });

  it('outlines a plane without an evaluation before it', async () => {
    const session = createSession(onlyHere);
    await open(session, stlOf(FIGURE));
    const { live } = await ask(session, 'outlined', {
      type: 'outline',
      minWallMm: 1.2,
      seamId: 'neck',
      from: null,
      by: planeSeam([0, 0, 2], 20),
    });
    const { view } = await evaluate(session, JOB);
    const [face] = live.faces;
    expect(face.areaMm2).toBeCloseTo(view.seams[0].areaMm2, 6);
    expect(face.frame.origin[2]).toBeCloseTo(20, 9);
    expect(face.contours).toEqual(view.contours.neck[0]);
  });

  it('shows the outlines of a plane that are cut, and follows them to where it is moved', async () => {
    const session = createSession(onlyHere);
    await open(session, stlOf(FIGURE));
    const faceOf = async (by: SeamSpec, from: SeamSpec | null = null) => {
      const asked = { type: 'outline', minWallMm: 1.2, seamId: 'neck', from, by } as const;
      const { live } = await ask(session, 'outlined', asked);
      return { by: live.by, face: live.faces[0] };
    };
    const { face: whole } = await faceOf(planeSeam([0, 0, 1], 12));
    expect(whole.uncut).toEqual([]);
    const through = [whole.frame.origin];
    const was = withThrough(planeSeam([0, 0, 1], 10), through);
    const { by, face } = await faceOf(withThrough(planeSeam([0, 0, 1], 12), through), was);
    expect(face.outlines).toEqual(whole.outlines);
    expect(by && throughOf(by)?.[0]?.[2]).toBeCloseTo(12, 4);
    expect(face.contours).toEqual(whole.contours);
    const off = await faceOf(withThrough(planeSeam([0, 0, 1], 500), through), was);
    expect([off.by, off.face.outlines]).toEqual([null, []]);
  });

  it('fails to evaluate before a figure is open', async () => {
    await expect(evaluate(createSession(onlyHere), JOB)).rejects.toThrow('no sculpt is open');
  });
});
