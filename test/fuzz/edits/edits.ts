import { jointResultOf, type Sitting } from '../../../app/state/bench-state.ts';
import {
  setJoint,
  setKind,
  setOf,
  setPartName,
  setPlane,
  setProcess,
  setSeam,
} from '../../../app/state/job-edits.ts';
import { offersOf } from '../../../app/state/offers.ts';
import { outlineGroups } from '../../../app/state/outlines.ts';
import { partsOnBench, waitingIn } from '../../../app/state/parts.ts';
import { jointKinds, type Seam, type Vec3 } from '../../../src/index.ts';
import type { StateBench } from '../../support/state-bench.ts';

/** What a person may do next, each at random. One that cannot be done just then does nothing. */

/** Uniform in [0, 1). */
export type Random = () => number;

export type Edit = (bench: StateBench, random: Random) => void | Promise<void>;

const oneOf = <T>(some: readonly T[], random: Random): T | undefined =>
  some[Math.floor(random() * some.length)];

const between = (low: number, high: number, random: Random): number => low + (high - low) * random();

/** A tenth of what a hand would type: rounded numbers make planes that go through corners. */
const rounded = (value: number): number => Math.round(value * 10) / 10;

const seamOf = ({ job }: StateBench, random: Random): Seam | undefined => oneOf(job().seams, random);

/** A direction along an axis, or any. */
function direction(random: Random): Vec3 {
  const axes: Vec3[] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  return random() < 0.6
    ? axes[Math.floor(random() * 3)]!
    : [between(-1, 1, random), between(-1, 1, random), between(0.1, 1, random)];
}

/** Somewhere in the box of a part on the bench. */
function placeIn({ store }: StateBench, random: Random): Vec3 {
  const { min, max } = oneOf(partsOnBench(store.getState()), random)?.boundsMm ?? {
    min: [0, 0, 0],
    max: [0, 0, 0],
  };
  return [0, 1, 2].map((k) => rounded(between(min[k]!, max[k]!, random))) as unknown as Vec3;
}

function planeIn(bench: StateBench, random: Random) {
  const normal = direction(random);
  const p = placeIn(bench, random);
  const offset = (normal[0] * p[0] + normal[1] * p[1] + normal[2] * p[2]) / Math.hypot(...normal);
  // Off the figure now and then.
  return { normal, offsetMm: rounded(random() < 0.12 ? offset + 500 : offset) };
}

export const EDITS: Record<string, Edit> = {
  'add a seam': (bench, random) => {
    const { store, actions, job } = bench;
    // What lies loose in a joint is divided by no seam, and the page does not offer it.
    const dividable = partsOnBench(store.getState()).filter(({ ofJoint }) => !ofJoint);
    const part = oneOf(dividable, random);
    if (!part || job().seams.length >= 6) return;
    const id = actions.addSeam(part);
    if (random() < 0.6) actions.apply((j) => setPlane(j, id, planeIn(bench, random)));
  },
  'remove a seam': (bench, random) => {
    const seam = seamOf(bench, random);
    if (seam) bench.actions.removeSeam(seam.id);
  },
  'move a seam': (bench, random) => {
    const seam = seamOf(bench, random);
    if (!seam) return;
    bench.actions.select(seam.id, null, 'seam');
    bench.actions.apply((j) => setPlane(j, seam.id, planeIn(bench, random)));
  },
  'move a seam by hand': (bench, random) => {
    const seam = seamOf(bench, random);
    if (!seam) return;
    const { actions } = bench;
    actions.select(seam.id, null, 'seam');
    actions.gesture.begin();
    for (let i = 0; i < 3; i++)
      actions.gesture.update((j) => setPlane(j, seam.id, planeIn(bench, random)), true);
    if (random() < 0.3) actions.gesture.cancel();
    else actions.gesture.complete();
  },
  'order a seam': async (bench, random) => {
    const seam = seamOf(bench, random);
    if (seam) await bench.actions.moveSeam(seam.id, random() < 0.5 ? 'earlier' : 'later');
  },
  'name what a seam that waits is to divide': ({ store, actions }, random) => {
    const waiting = oneOf(waitingIn(store.getState()), random);
    const part = waiting && oneOf(waiting.facts.instead, random);
    if (waiting?.seamId && part) actions.apply((j) => setOf(j, waiting.seamId!, part.id));
  },
  'choose outlines': ({ store, actions }, random) => {
    const { seams } = store.getState().derived.view ?? { seams: [] };
    const result = oneOf(seams, random);
    const face = result?.facets[0];
    if (!result || !face) return;
    actions.select(result.id, null, 'seam');
    const group = oneOf(outlineGroups(face), random);
    if (group) actions.toggleOutline(group);
  },
  'name a part': (bench, random) => {
    const seam = seamOf(bench, random);
    const side = random() < 0.5 ? 'front' : 'back';
    if (seam)
      bench.actions.apply((j) =>
        setPartName(j, { seamId: seam.id, side }, `part ${Math.floor(random() * 9)}`),
      );
  },
  'turn the peg round': (bench, random) => {
    const seam = seamOf(bench, random);
    if (!seam) return;
    bench.actions.apply((j) => setSeam(j, seam.id, { pegOn: seam.pegOn === 'front' ? 'back' : 'front' }));
  },
  'add a peg': (bench, random) => {
    const seam = seamOf(bench, random);
    if (!seam || seam.joints.length >= 3) return;
    bench.actions.select(seam.id, null, 'seam');
    bench.actions.addJoint(random() < 0.5 ? 'auto' : placeIn(bench, random));
  },
  'remove a peg': (bench, random) => {
    const seam = seamOf(bench, random);
    const joint = seam && oneOf(seam.joints, random);
    if (!seam || !joint) return;
    bench.actions.select(seam.id, joint.id, 'peg');
    bench.actions.removeJoint(joint.id);
  },
  'move and size a peg': (bench, random) => {
    const seam = seamOf(bench, random);
    const joint = seam && oneOf(seam.joints, random);
    if (!seam || !joint) return;
    const was = jointResultOf(bench.store.getState(), seam.id, joint.id)?.settled.at;
    const at = was && ([was[0] + rounded(random()), was[1] - rounded(random()), was[2]] as Vec3);
    const lengthMm = rounded(between(2, 7, random));
    bench.actions.apply((j) => setJoint(j, seam.id, joint.id, { lengthMm, ...(at && { at }) }));
  },
  'make a peg another kind': (bench, random) => {
    const seam = seamOf(bench, random);
    const joint = seam && oneOf(seam.joints, random);
    const kind = oneOf(jointKinds(), random);
    if (seam && joint && kind) bench.actions.apply((j) => setKind(j, seam.id, joint.id, kind.name));
  },
  'ask for other gaps and walls': ({ actions }, random) =>
    actions.apply((j) =>
      setProcess(j, {
        sideGapMm: rounded(between(0.1, 0.4, random)),
        minWallMm: rounded(between(0.5, 2, random)),
      }),
    ),
  'join what touches': ({ store, actions }, random) => {
    const offer = oneOf(offersOf(store.getState()), random);
    if (offer) actions.joinBodies(offer);
  },
  'choose something else': (bench, random) => {
    const seam = seamOf(bench, random);
    const tab = oneOf<Sitting['tab']>(['seam', 'peg', 'sculpt'], random) ?? 'seam';
    bench.actions.select(seam?.id ?? null, null, tab);
  },
  undo: ({ actions }) => actions.undo(),
  redo: ({ actions }) => actions.redo(),
};
