import {
  type BodySummary,
  type FindingOf,
  type Job,
  type PartNode,
  type PartRef,
  type PartTree,
  type PartView,
  partId,
  partTree,
  type Seam,
  undivided,
} from '../../src/index.ts';
import { type BenchState, jobOf } from './bench-state.ts';

/** Names of bodies as a file has them; none before a figure is on the bench. */
const NO_BODIES: readonly BodySummary[] = [];

/** What was found of seams that wait, as the job was worked out last. */
export const waitingIn = ({ derived: { view } }: BenchState): FindingOf<'seam-waits'>[] =>
  (view?.findings ?? []).filter((one): one is FindingOf<'seam-waits'> => one.code === 'seam-waits');

const trees = new WeakMap<Job, { bodies: readonly BodySummary[]; waiting: string; tree: PartTree }>();

/** How a job divides the figure on the bench, the same tree for the same job. */
export function treeOf(state: BenchState): PartTree {
  const job = jobOf(state);
  const bodies = state.derived.summary?.solids ?? NO_BODIES;
  const waiting = waitingIn(state).map(({ seamId }) => seamId ?? '');
  const key = JSON.stringify(waiting);
  const known = trees.get(job);
  if (known?.bodies === bodies && known.waiting === key) return known.tree;
  const tree = partTree(
    job,
    bodies.map(({ named }) => named),
    waiting,
  );
  trees.set(job, { bodies, waiting: key, tree });
  return tree;
}

/** Equal as a list of parts, seams and joints shows them: a seam that is only being moved changes nothing of it. */
export const isSameTree = (a: PartTree, b: PartTree): boolean =>
  a === b ||
  (isSamePart(a.root, b.root) &&
    areSame(a.joining, b.joining, isListedAlike) &&
    areSame(a.astray, b.astray, isListedAlike));

const isSamePart = (a: PartNode, b: PartNode): boolean =>
  a.id === b.id &&
  a.name === b.name &&
  areSame(a.bodies, b.bodies, isSamePart) &&
  (a.seam === null || b.seam === null
    ? a.seam === b.seam
    : isListedAlike(a.seam.seam, b.seam.seam) &&
      isSamePart(a.seam.front, b.seam.front) &&
      isSamePart(a.seam.back, b.seam.back));

const isListedAlike = (a: Seam, b: Seam): boolean =>
  a.id === b.id && a.pegOn === b.pegOn && areSame(a.joints, b.joints, (one, other) => one.id === other.id);

const areSame = <T>(a: readonly T[], b: readonly T[], isSame: (a: T, b: T) => boolean): boolean =>
  a.length === b.length && a.every((one, i) => isSame(one, b[i]));

/** The finished parts as the tree has them: its order, and its names where the job goes ahead of what was worked out. */
export function partsOnBench(state: BenchState): PartView[] {
  const parts = state.derived.view?.parts ?? [];
  const nodes = undivided(treeOf(state).root);
  const divided = nodes.flatMap((node) => {
    const part = parts.find(({ id }) => id === node.id);
    return part ? [{ ...part, name: node.name ?? part.name }] : [];
  });
  const listed = [...divided, ...parts.filter(({ ofJoint }) => ofJoint)];
  // Of another job than is shown: what there is, as it is.
  return listed.length === parts.length ? listed : parts;
}

/** The part that lies loose in a joint, as the tree has parts; null where none was made. */
export function loosePartOf(
  { derived: { view } }: BenchState,
  seamId: string,
  jointId: string,
): PartNode | null {
  const ref: PartRef = { of: 'joint', seamId, jointId };
  const id = partId(ref);
  const part = view?.parts.find((one) => one.id === id);
  return part ? { ref, id, name: null, seam: null, bodies: [] } : null;
}

/** Ids of the parts that a node of the tree stands for. */
export const idsUnder = (node: PartNode): string[] => undivided(node).map(({ id }) => id);

/** True where a part is to be seen: not hidden, and among those seen alone where some are. */
export const isShown = ({ sitting: { hidden, alone } }: BenchState, id: string): boolean =>
  alone === null ? !hidden.includes(id) : alone.includes(id);

/** How the parts are pulled apart. */
export const pullOf = ({ sitting: { explode, apart } }: BenchState) => ({ explode, apart });

/** The parts that are seen on the bench. */
export const shownParts = (state: BenchState): PartView[] =>
  (state.derived.view?.parts ?? []).filter(({ id }) => isShown(state, id));
