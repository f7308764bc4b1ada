import { describe, expect, it } from 'vitest';
import { partOf } from '../../src/mesh/part/part.ts';
import type { KernelAnswer, KernelTask } from '../../src/worker/protocol.ts';
import { proveSideBySide } from '../../src/worker/prove-side-by-side.ts';
import { icosphere } from '../support/figures.ts';

/** Balls of 80, 320 and 1,280 triangles. */
const balls = [1, 3, 2].map((levels) => partOf(icosphere(levels)));

/** Kernels that take a moment over each mesh and count its triangles, and how many triangles they held at once. */
function kernels(count: number, answer: (triangles: number) => KernelAnswer) {
  const state = { asked: [] as number[], held: 0, most: 0 };
  const ask = async (task: KernelTask) => {
    if (task.type !== 'prove') throw new Error(`asked to ${task.type}`);
    const triangles = task.mesh.triangles.length / 3;
    state.asked.push(triangles);
    state.held += triangles;
    state.most = Math.max(state.most, state.held);
    await new Promise((done) => setTimeout(done, 5));
    state.held -= triangles;
    return answer(triangles);
  };
  return { state, workers: Array.from({ length: count }, () => ({ ask })) };
}

const proved = (triangles: number): KernelAnswer => ({
  type: 'proved',
  proof: { triangles, volumeMm3: 1 },
});

describe('parts proved side by side', () => {
  it('have their proofs in the order of the parts, the largest being begun first', async () => {
    const { state, workers } = kernels(2, proved);
    const told: number[] = [];
    const proofs = await proveSideBySide(workers, balls, (done) => told.push(done));
    expect(proofs).toEqual([80, 1280, 320].map((triangles) => ({ triangles, volumeMm3: 1 })));
    expect(state.asked).toEqual([1280, 320, 80]);
    expect(state.most).toBe(1600);
    expect(told).toEqual([1 / 3, 2 / 3, 1]);
  });

  it('are never more at once than one kernel could hold together', async () => {
    for (const [room, most] of [
      [1680, 1680],
      [1679, 1600],
      [1599, 1280],
      [1, 1280],
    ]) {
      const { state, workers } = kernels(3, proved);
      expect(await proveSideBySide(workers, balls, () => {}, room)).not.toContain(null);
      expect(state.most, `room for ${room}`).toBe(most);
    }
  });

  it('have no proof where the kernel was lost over them, and the others have', async () => {
    const { workers } = kernels(2, (triangles) =>
      triangles === 1280 ? { type: 'lost', how: 'crashed' } : proved(triangles),
    );
    expect(await proveSideBySide(workers, balls)).toEqual([
      { triangles: 80, volumeMm3: 1 },
      null,
      { triangles: 320, volumeMm3: 1 },
    ]);
  });

  it('of which there are none are proved at once', async () => {
    expect(await proveSideBySide(kernels(2, proved).workers, [])).toEqual([]);
  });
});
