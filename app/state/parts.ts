import {
  type BodySummary,
  type Job,
  type PartNode,
  type PartTree,
  type PartView,
  partTree,
  undivided,
} from '../../src/index.ts';
import { type BenchState, jobOf } from './bench-state.ts';

/** Names of bodies as a file has them; none before a figure is on the bench. */
const NO_BODIES: readonly BodySummary[] = [];

const trees = new WeakMap<Job, { bodies: readonly BodySummary[]; tree: PartTree }>();

/** How a job divides the figure on the bench, the same tree for the same job. */
export function treeOf(state: BenchState): PartTree {
  const job = jobOf(state);
  const bodies = state.derived.summary?.solids ?? NO_BODIES;
  const known = trees.get(job);
  if (known?.bodies === bodies) return known.tree;
  const tree = partTree(
    job,
    bodies.map(({ named }) => named),
  );
  trees.set(job, { bodies, tree });
  return tree;
}

/** The finished parts as the tree has them: its order, and its names where the job goes ahead of what was worked out. */
export function partsOnBench(state: BenchState): PartView[] {
  const parts = state.derived.view?.parts ?? [];
  const nodes = undivided(treeOf(state).root);
  const listed = nodes.flatMap((node) => {
    const part = parts.find(({ id }) => id === node.id);
    return part ? [{ ...part, name: node.name ?? part.name }] : [];
  });
  // Of another job than is shown: what there is, as it is.
  return listed.length === parts.length ? listed : parts;
}

/** Ids of the parts that a node of the tree stands for. */
export const idsUnder = (node: PartNode): string[] => undivided(node).map(({ id }) => id);

/** True where a part is to be seen: not hidden, and among those seen alone where some are. */
export const isShown = ({ sitting: { hidden, alone } }: BenchState, id: string): boolean =>
  alone === null ? !hidden.includes(id) : alone.includes(id);

/** The parts that are seen on the bench. */
export const shownParts = (state: BenchState): PartView[] =>
  (state.derived.view?.parts ?? []).filter(({ id }) => isShown(state, id));
