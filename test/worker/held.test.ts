import { describe, expect, it } from 'vitest';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import type { Job } from '../../src/model/job.ts';
import { createHeld } from '../../src/worker/held.ts';
import type { EvaluationView, SentView } from '../../src/worker/protocol.ts';
import { createSession } from '../../src/worker/session.ts';
import { lumpySphere } from '../support/figures.ts';
import { jobOf } from '../support/job.ts';

interface Places {
  pegMm?: number;
  secondMm?: number;
  thirdMm?: number;
  wallMm?: number;
}

/** A level cut through a ball; what is in front of it is divided, and of that the front again: the first face is of three pieces. */
const jobWith = ({ pegMm = -4, secondMm = 0, thirdMm = 0, wallMm = 1.2 }: Places): Job =>
  jobOf(
    [
      {
        id: 'one',
        pegs: [{ kind: 'taper', at: [pegMm, 0, 0], widthMm: 3, heightMm: 3, lengthMm: 3 }],
        pegOn: 'back',
      },
      { id: 'two', of: 'one.front', normal: [1, 0, 0], offsetMm: secondMm, pegOn: 'front' },
      { id: 'three', of: 'two.front', normal: [0, 1, 0], offsetMm: thirdMm },
    ],
    { minWallMm: wallMm },
  );

/** Edits one after the other, and back. */
const EDITS: readonly Places[] = [
  {},
  { pegMm: -4.5 },
  { pegMm: -5 },
  { thirdMm: 1 },
  { thirdMm: 2 },
  { secondMm: 1, thirdMm: 2 },
  { wallMm: 2 },
  { pegMm: -4.5 },
  {},
];

/** A worker that answers as over the wire: everything is a copy. */
async function workerOn(mesh: Mesh): Promise<(job: Job, held: string[]) => Promise<SentView>> {
  const session = createSession(onlyHere);
  const blob = new Blob([writeStlBinary(mesh, [0, 0, 0]) as Uint8Array<ArrayBuffer>]);
  const files = [{ name: 'figure.stl', blob }];
  await session.answer({ type: 'open', id: 0, files, unit: 'mm', scale: 1 }, () => {});
  return async (job, held) => {
    const request = { type: 'evaluate', id: 1, job, focus: null, held, isHeld: false } as const;
    const reply = await session.answer(request, () => {});
    if (reply.type !== 'evaluated') throw new Error(`answered ${reply.type}`);
    return structuredClone(reply.view);
  };
}

/** A view without the names that a worker gave what is in it, and the time it took. */
const unnamed = ({ parts, timingsMs: _, ...view }: EvaluationView) => ({
  ...view,
  parts: parts.map(({ skins, lid, ...part }) => ({
    ...part,
    skins: skins.map(({ mesh }) => mesh),
    lid: lid.mesh,
  })),
});

const FIGURE = lumpySphere(6, 15, 3, 0.2);

describe('what the page holds', () => {
  it('completes every view to what a worker sends that knows of nothing held', async () => {
    const [known, held] = [await workerOn(FIGURE), createHeld()];
    for (const edit of EDITS) {
      const { faceKeys, ...whole } = await (await workerOn(FIGURE))(jobWith(edit), []);
      const completed = held.completed(await known(jobWith(edit), held.keys()));
      expect(Object.keys(faceKeys)).toEqual(['one', 'two', 'three']);
      expect(unnamed(completed)).toEqual(unnamed(whole));
    }
  }, 60_000);

  it('is not sent again, and only that', async () => {
    const [worker, held] = [await workerOn(FIGURE), createHeld()];
    held.completed(await worker(jobWith({}), held.keys()));
    const moved = await worker(jobWith({ pegMm: -5 }), held.keys());
    const sent = moved.parts.filter(({ lid }) => lid.mesh !== null).map(({ id }) => id);
    expect(sent.sort()).toEqual(['one.back', 'two.back']);
    expect(moved.parts.flatMap(({ skins }) => skins).every(({ mesh }) => mesh === null)).toBe(true);
    expect(moved.contours).toEqual({});
    expect(moved.seams.flatMap(({ facets }) => facets).every(({ outlines }) => outlines.length === 0)).toBe(
      true,
    );
    held.completed(moved);
    // The third seam divides the first one's face; that of the second is told of its other part.
    const divided = await worker(jobWith({ pegMm: -5, thirdMm: 1 }), held.keys());
    expect(Object.keys(divided.contours)).toEqual(['one', 'three']);
  });

  it('is what the last view has, and no more', async () => {
    const [worker, held] = [await workerOn(FIGURE), createHeld()];
    expect(held.keys()).toEqual([]);
    const first = await worker(jobWith({}), held.keys());
    held.completed(first);
    const before = held.keys();
    expect(before).toHaveLength(4 + 4 + 3);
    held.completed(await worker(jobWith({ thirdMm: 1 }), before));
    const now = held.keys();
    expect(now).toHaveLength(4 + 4 + 3);
    const gone = before.filter((key) => !now.includes(key));
    expect(gone).toContain(first.faceKeys.three);
    expect(gone).not.toContain(first.faceKeys.two);
  });
});
