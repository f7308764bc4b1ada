import type { FindingCode } from '../../src/check/finding.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import type { Part } from '../../src/mesh/part/part.ts';
import { checkStep } from '../../src/pipeline/check-step.ts';
import { jobOf, type PegInput, pegWith, sculptOf } from '../support/job.ts';
import { proveParts } from '../support/prove-parts.ts';
import { box, fanned } from '../support/simple-solids.ts';
import { evaluated, madeOf } from '../support/told-codes.ts';
import type { CodeCase } from './code-case.ts';

const block = fanned(box([-20, -20, -20], [20, 20, 20]));
const withPegs = (...pegs: PegInput[]) => madeOf(block, [{ pegs }]);
const pegAt = (x: number, sizes: Partial<PegInput> = {}) => pegWith({ at: [x, 0, 0], ...sizes });
/** Sides so drafted that the longer socket's end falls back from the peg's. */
const steep = { draftDeg: 28, widthMm: 14, heightMm: 12, lengthMm: 3, sideGapMm: 0.15 };

/** A seam with a peg through the block, with its first part as it is or lacking its last triangle. */
async function torn(isTorn: boolean) {
  const job = jobOf([{ pegs: [pegWith()] }]);
  const { evaluation, tree } = await evaluated(block, job);
  const lacking = ({ patches, ...vertices }: Part): Part => ({
    ...vertices,
    patches: patches.map((patch, i) => (i > 0 ? patch : { ...patch, triangles: patch.triangles.slice(3) })),
  });
  const parts = tree.parts.map((finished, i) =>
    isTorn && i === 0 ? { ...finished, part: lacking(finished.part) } : finished,
  );
  return { job, evaluation, tree: { ...tree, parts } };
}

const checkedTorn = (isTorn: boolean) => async () => {
  const { job, tree } = await torn(isTorn);
  return checkStep(job, await sculptOf(block), tree, () => {}).findings.map(({ code }) => code);
};

const provedTorn = (isTorn: boolean) => async () => {
  const { evaluation, tree } = await torn(isTorn);
  const parts = tree.parts.map(({ part }, i) => ({ part, result: evaluation.parts[i] }));
  return proveParts(await loadKernel(), parts, () => {}).findings.map(({ code }) => code);
};

export const FINDING_CASES: CodeCase<FindingCode>[] = [
  {
    code: 'no-peg-fits',
    comes: madeOf(fanned(box([-2, -2, -20], [2, 2, 20])), [{ pegs: [{ kind: 'taper', at: 'auto' }] }]),
    stays: madeOf(fanned(box([-6, -6, -20], [6, 6, 20])), [{ pegs: [{ kind: 'taper', at: 'auto' }] }]),
  },
  {
    code: 'peg-shape-impossible',
    comes: withPegs(pegWith({ edgeRadiusMm: 2.6 })),
    stays: withPegs(pegWith({ edgeRadiusMm: 1.6 })),
  },
  { code: 'peg-off-face', comes: withPegs(pegAt(17)), stays: withPegs(pegAt(15)) },
  { code: 'pegs-too-close', comes: withPegs(pegAt(0), pegAt(6.2)), stays: withPegs(pegAt(0), pegAt(6.4)) },
  {
    code: 'socket-breaks-skin',
    comes: withPegs(pegWith({ lengthMm: 19.6, draftDeg: 0 })),
    stays: withPegs(pegWith({ lengthMm: 19.5, draftDeg: 0 })),
  },
  {
    code: 'wall-thin',
    comes: withPegs(pegWith({ lengthMm: 18.5, draftDeg: 0 })),
    stays: withPegs(pegWith({ lengthMm: 18.3, draftDeg: 0 })),
  },
  {
    code: 'gap-not-met',
    comes: withPegs(pegWith({ ...steep, endGapMm: 1 })),
    stays: withPegs(pegWith({ ...steep, endGapMm: 0.15 })),
  },
  {
    code: 'seats-more-than-one-way',
    comes: withPegs(pegAt(0)),
    stays: withPegs(pegAt(-8), pegAt(8, { widthMm: 8 })),
  },
  { code: 'seam-without-peg', comes: withPegs(), stays: withPegs(pegAt(0)) },
  {
    code: 'small-magnet',
    comes: withPegs({ kind: 'magnet', at: [0, 0, 0] }),
    stays: withPegs({ kind: 'pin', at: [0, 0, 0] }),
  },
  {
    code: 'closed-in-print',
    comes: withPegs({ kind: 'magnet', at: [0, 0, 0], coverMm: 0.4 }),
    stays: withPegs({ kind: 'magnet', at: [0, 0, 0], coverMm: 0 }),
  },
  { code: 'volume-unbalanced', comes: withPegs(pegAt(18)), stays: withPegs(pegAt(15)) },
  { code: 'part-not-closed', comes: checkedTorn(true), stays: checkedTorn(false) },
  { code: 'kernel-disagrees', comes: provedTorn(true), stays: provedTorn(false) },
];
