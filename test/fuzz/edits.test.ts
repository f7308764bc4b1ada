import { describe, expect, it } from 'vitest';
import { refusalOf } from '../../app/state/bench-state.ts';
import { waitingIn } from '../../app/state/parts.ts';
import { makeRandom } from '../../src/demo/prng.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { lumpySphere } from '../support/figures.ts';
import { limbed } from '../support/limbed.ts';
import { sessionEngine } from '../support/session-engine.ts';
import { box, fanned, together } from '../support/simple-solids.ts';
import { figureFile, stateBench } from '../support/state-bench.ts';
import { sweep } from '../support/sweep.ts';
import { EDITS } from './edits/edits.ts';
import { toldOf } from './edits/told.ts';

/**
 * Edits at random, undone and done again: whatever the page's engine has kept on its way, what it makes of the job there is
 * now is what an engine makes that has never seen another, byte for byte.
 */

const STEPS = 20;

const FIGURES: ((seed: number) => Mesh)[] = [
  (seed) => lumpySphere(seed, 18, 3, 0.25),
  (seed) => limbed(seed, 3, 3),
  () => together(fanned(box([-9, -9, 0], [9, 9, 20])), fanned(box([-7, -8, 20], [9, 6, 44]))),
];

/** How often each came: that the sequences go where they are meant to. */
const seen = { waiting: 0, parts: 0 };

const trianglesOf = (parts: readonly { id: string; triangles: number }[] = []) =>
  parts.map(({ id, triangles }) => [id, triangles]);

async function run(seed: number): Promise<void> {
  const random = makeRandom(seed);
  const mesh = FIGURES[seed % FIGURES.length]!(seed);
  const bench = await stateBench(mesh);
  const names = Object.keys(EDITS);
  const done: string[] = [];
  for (let step = 0; step < STEPS; step++) {
    const name = names[Math.floor(random() * names.length)]!;
    done.push(name);
    await EDITS[name]!(bench, random);
    await bench.idle();
    const job = bench.job();
    const state = bench.store.getState();
    const fresh = sessionEngine();
    await fresh.open(
      [{ name: 'figure.stl', blob: figureFile(mesh) }],
      { unit: 'mm', scale: 1 },
      () => {},
      () => {},
    );
    const [kept, anew] = [await toldOf(bench.engine, job), await toldOf(fresh, job)];
    expect(kept, `seed ${seed} after ${done.join(', ')}`).toEqual(anew);
    seen.waiting += waitingIn(state).length;
    seen.parts += kept.parts?.length ?? 0;
    // What the page shows is of this job, or says that it is not.
    const { view, viewJob } = state.derived;
    if (viewJob === job) expect(trianglesOf(view?.parts)).toEqual(trianglesOf(anew.parts));
    else expect(refusalOf(state)).not.toBeNull();
  }
}

describe('a job edited at random is made as if it had been so from the start', () => {
  it.each(sweep(9001, 120, 3))('seed %i', run);

  it('of which some have seams that wait, and parts in plenty', () => {
    expect(seen.waiting).toBeGreaterThan(0);
    expect(seen.parts).toBeGreaterThan(3 * STEPS);
  });
});
