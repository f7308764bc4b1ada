import { beforeAll, describe, expect, it } from 'vitest';
import { addSeam, setPartName, setPlane } from '../../../app/state/job-edits.ts';
import { middleSeam } from '../../../app/state/new-seam.ts';
import { partsOnBench, treeOf, waitingIn } from '../../../app/state/parts.ts';
import type { Job } from '../../../src/index.ts';
import { box, fanned } from '../../support/simple-solids.ts';
import { stateBench } from '../../support/state-bench.ts';

/** A column of 20 × 20 × 60 mm on the bench, in three: “low” at z = −10, and “high” at z = 12 of what is over it. */
async function bench() {
  const one = await stateBench(fanned(box([-10, -10, -30], [10, 10, 30])));
  const { store, actions, idle, job } = one;
  const boundsMm = { min: [-10, -10, -30], max: [10, 10, 30] } as const;
  const level = (of: string, id: string, offsetMm: number, name: string) => (before: Job) => {
    const seam = { ...middleSeam(of, boundsMm, [], name), id };
    return setPlane(addSeam(before, seam), id, { normal: [0, 0, 1], offsetMm });
  };
  actions.removeSeam(job().seams[0]!.id);
  actions.apply(level('sculpt', 'low', -10, ''));
  actions.apply(level('low.front', 'high', 12, 'upper'));
  actions.select('high', null, 'seam');
  await idle();
  const named = () =>
    partsOnBench(store.getState())
      .map(({ name, volumeMm3 }) => [name, Math.round(volumeMm3)])
      .sort();
  return { ...one, named };
}

describe('moving a seam in the order', () => {
  let one: Awaited<ReturnType<typeof bench>>;
  beforeAll(async () => {
    one = await bench();
  });

  it('keeps the parts and their names, and names what only now comes to be by where it lies', async () => {
    const { actions, idle, job, named, store } = one;
    expect(job().seams.map(({ names }) => names)).toEqual([
      { front: 'upper', back: 'lower' },
      { front: 'upper upper', back: 'upper lower' },
    ]);
    const before = named();
    actions.hideParts(['high.back'], true);
    actions.pullPart('high.back', true);
    await actions.moveSeam('high', 'earlier');
    await idle();
    expect(job().seams.map(({ id, of, names }) => [id, of, names])).toEqual([
      ['high', 'sculpt', { front: 'upper upper', back: 'lower' }],
      ['low', 'high.back', { front: 'upper lower', back: 'lower' }],
    ]);
    expect(named()).toEqual(before);
    const { seamId, hidden, apart } = store.getState().sitting;
    expect([seamId, hidden, apart]).toEqual(['high', ['low.front'], ['low.front']]);
  });

  it('is one step of undo', async () => {
    const { actions, idle, job } = one;
    actions.undo();
    await idle();
    expect(job().seams.map(({ id, of }) => [id, of])).toEqual([
      ['low', 'sculpt'],
      ['high', 'low.front'],
    ]);
    actions.redo();
    await idle();
    expect(job().seams[0].id).toBe('high');
    actions.undo();
    await idle();
  });

  it('says why it does not, and leaves the job as it is', async () => {
    const { actions, idle, job, store } = one;
    actions.apply((j) => setPlane(j, 'high', { normal: [1, 0, 0], offsetMm: 0 }));
    await idle();
    const before = job();
    await actions.moveSeam('high', 'earlier');
    expect(job()).toBe(before);
    expect(store.getState().derived.message?.said.code).toBe('seam-order-fixed');
    actions.undo();
    await idle();
    expect(store.getState().derived.message).toBeNull();
  });

  it('does nothing while a hand is at the job, or where a hand was quicker', async () => {
    const { actions, idle, job } = one;
    actions.gesture.begin();
    await actions.moveSeam('high', 'earlier');
    expect(job().seams[0].id).toBe('low');
    actions.gesture.cancel();
    const moving = actions.moveSeam('high', 'earlier');
    actions.apply((j) => setPartName(j, { seamId: 'low', side: 'back' }, 'foot'));
    await moving;
    await idle();
    expect(job().seams.map(({ id, names }) => [id, names.back])).toEqual([
      ['low', 'foot'],
      ['high', 'upper lower'],
    ]);
  });
});

describe('a seam whose part is gone', () => {
  it('waits with its names and joints, and is as it was when the part is there again', async () => {
    const { actions, idle, job, named, store } = await bench();
    const [before, parts] = [job(), named()];
    actions.removeSeam('low');
    await idle();
    expect(job().seams).toEqual([before.seams[1]]);
    expect(treeOf(store.getState()).astray.map(({ id }) => id)).toEqual(['high']);
    expect(waitingIn(store.getState()).map(({ seamId }) => seamId)).toEqual(['high']);
    expect(partsOnBench(store.getState()).map(({ id }) => id)).toEqual(['sculpt']);
    actions.undo();
    await idle();
    expect([job(), named(), waitingIn(store.getState())]).toEqual([before, parts, []]);
  });

  it('stands in the tree as waiting where it was moved off the figure, and nothing as divided by it', async () => {
    const { actions, idle, store } = await bench();
    actions.apply((j) => setPlane(j, 'low', { normal: [0, 0, 1], offsetMm: 300 }));
    await idle();
    const { root, astray } = treeOf(store.getState());
    expect([root.seam, astray.map(({ id }) => id)]).toEqual([null, ['low', 'high']]);
    await actions.exportPart(null);
    expect(store.getState().derived.message?.said).toMatchObject({
      code: 'exported',
      facts: { waiting: 2 },
    });
  });
});
