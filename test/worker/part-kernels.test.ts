import { describe, expect, it } from 'vitest';
import { closedBody } from '../../src/joint/piece.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { kernelJoin } from '../../src/kernel/solid.ts';
import { TOLERANCES } from '../../src/math/tolerances.ts';
import { meshOf, type Part } from '../../src/mesh/part/part.ts';
import type { KernelWorker } from '../../src/worker/kernel-worker.ts';
import { eachInItsOwn } from '../../src/worker/part-kernels.ts';
import type { KernelAnswer, KernelTask } from '../../src/worker/protocol.ts';
import { lumpySphere } from '../support/figures.ts';
import { cutFigure, type Fixture, isSound, jointsAt, pegOf, volumeOf } from '../support/seam-fixture.ts';
import { symmetricDifference } from '../support/symmetric-difference.ts';

const kernel = await loadKernel();
const { front, back, cut } = cutFigure(kernel, lumpySphere(5, 15), [0.2, 0.3, 1], 1) as Fixture;
const { peg, socket } = jointsAt(cut, [11, 0], pegOf({ widthMm: 6 }));
const jointsOf = (joint: typeof peg) => [{ of: joint.of, body: closedBody(joint, TOLERANCES.root) }];

/** Workers that answer when told to, and what they were asked. */
function workers(answer: (task: KernelTask) => KernelAnswer) {
  const state = { begun: 0, running: 0, most: 0, ended: 0, tasks: [] as KernelTask[] };
  const spawn = (): KernelWorker => {
    state.begun++;
    return {
      async ask(task) {
        state.tasks.push(task);
        state.most = Math.max(state.most, ++state.running);
        await new Promise((done) => setTimeout(done, 5));
        state.running--;
        return answer(structuredClone(task));
      },
      start: () => {},
      stop: () => {
        state.ended++;
      },
    };
  };
  return { state, spawn };
}

const joining = (task: KernelTask): KernelAnswer => {
  if (task.type !== 'join') throw new Error(`asked to ${task.type}`);
  return { type: 'joined', part: kernelJoin(kernel, task.part, task.joints) };
};

describe('whole parts, each joined in a worker of its own', () => {
  it('are what one kernel makes of them', async () => {
    const { state, spawn } = workers(joining);
    const { joinWhole } = eachInItsOwn(kernel, spawn);
    const done = await Promise.all([
      joinWhole(back.part, jointsOf(peg)),
      joinWhole(front.part, jointsOf(socket)),
    ]);
    const here = [
      kernelJoin(kernel, back.part, jointsOf(peg)),
      kernelJoin(kernel, front.part, jointsOf(socket)),
    ];
    done.forEach((part, i) => {
      expect(isSound(part)).toBe(true);
      expect(Math.abs(volumeOf(part) - volumeOf(here[i]))).toBeLessThan(1e-9 * volumeOf(here[i]));
      const { onlyA, onlyB } = symmetricDifference(kernel, meshOf(part), meshOf(here[i]));
      expect(onlyA + onlyB).toBeLessThan(1e-6);
      expect(part.patches.map(({ of }) => of)).toEqual(here[i].patches.map(({ of }) => of));
    });
    expect(state).toMatchObject({ begun: 2, most: 2, ended: 2 });
  });

  it('leave what the page goes on with alone: the worker is given its own arrays, and only what the part uses', async () => {
    const { state, spawn } = workers(joining);
    await eachInItsOwn(kernel, spawn).joinWhole(front.part, jointsOf(socket));
    const [task] = state.tasks;
    const given = (task as KernelTask & { type: 'join' }).part;
    const held = new Set(
      [front.part, back.part].flatMap(({ positions, added, patches }) => [
        positions.buffer,
        added.buffer,
        ...patches.map(({ triangles }) => triangles.buffer),
      ]),
    );
    for (const { buffer } of [given.positions, ...given.patches.map(({ triangles }) => triangles)])
      expect(held.has(buffer)).toBe(false);
    const used = new Set(given.patches.flatMap(({ triangles }) => [...triangles]));
    expect(used.size).toBe(given.positions.length / 3);
    expect(cornersOf(given)).toEqual(cornersOf(front.part));
  });

  it('are refused with the reason, or where the kernel was lost, and the next has a kernel again', async () => {
    const answers: KernelAnswer[] = [
      { type: 'refused', facts: { step: 'jointing', doubt: { is: 'not-manifold' } } },
      { type: 'lost', how: 'crashed' },
      { type: 'lost', how: 'timed-out' },
      { type: 'lost', how: 'not-loaded' },
    ];
    const { state, spawn } = workers((task) => answers.shift() ?? joining(task));
    const { joinWhole } = eachInItsOwn(kernel, spawn);
    const told = await Promise.allSettled(
      Array.from({ length: 5 }, () => joinWhole(front.part, jointsOf(socket))),
    );
    expect(told).toMatchObject([
      { status: 'rejected', reason: { code: 'kernel-refused', facts: { doubt: { is: 'not-manifold' } } } },
      { status: 'rejected', reason: { code: 'kernel-refused', facts: { doubt: { is: 'crashed' } } } },
      {
        status: 'rejected',
        reason: { code: 'kernel-refused', facts: { doubt: { is: 'timed-out' } } },
      },
      { status: 'rejected', reason: { code: 'not-loaded', facts: { what: 'kernel' } } },
      { status: 'fulfilled' },
    ]);
    expect(state).toMatchObject({ begun: 5, ended: 5 });
  });
});

/** Corners of all triangles, patch by patch. */
function cornersOf(part: Part): string[] {
  const { positions, triangles } = meshOf(part);
  return Array.from(triangles, (v) => positions.subarray(v * 3, v * 3 + 3).join());
}
