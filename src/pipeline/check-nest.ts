import { type Finding, finding } from '../check/finding.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { add, type Vec3 } from '../math/vec3.ts';
import { blocksOf } from '../mesh/near/blocks.ts';
import { blocksBeside } from '../mesh/near/blocks-beside.ts';
import { joinIndices } from '../mesh/part/join-indices.ts';
import { meshOf, type Part } from '../mesh/part/part.ts';
import { partFacts } from '../mesh/part/part-facts.ts';
import { allPositions } from '../mesh/part/vertices.ts';
import type { Side } from '../model/part-ref.ts';
import type { Cut, NestFacts } from '../seam/cut.ts';
import { isTrimmedBy } from '../seam/nest/trim.ts';
import { measureNestGap, type NestGap } from '../section/nest-gap.ts';
import type { CutSeam } from './cut-step.ts';
import type { NestResult } from './evaluation.ts';

/** How bodies that overlapped lie in each other, measured; what is wrong is told. Undefined for others. */
export function nestResult(
  { seam, cut }: CutSeam,
  originMm: Vec3,
  findings: Finding[],
): NestResult | undefined {
  const { nest } = cut;
  if (!nest) return undefined;
  const { gives, gapMm, rimMm, areaMm2, before, after } = nest;
  const lost = (side: Side) => partFacts(before[side]).volumeMm3 - partFacts(after[side]).volumeMm3;
  const trimmedMm3 = lost('front') + lost('back');
  const middle = add(nest.middle, originMm);
  const where = { seamId: seam.id, at: middle };
  const to = { part: seam.names[gives === 'front' ? 'back' : 'front'] };
  findings.push(finding('gives-way', 'info', { part: seam.names[gives], to, trimmedMm3 }, where));
  for (const side of ['front', 'back'] as const) {
    const pieces = 1 + partFacts(cut[side]).shells - partFacts(before[side]).shells;
    if (pieces > 1)
      findings.push(finding('part-in-pieces', 'warning', { part: seam.names[side], pieces }, where));
  }
  const { inside, rimMm: rimGapMm } = measured(cut, nest, seam.id);
  if (inside && gapMm > 0) {
    const facts = { askedMm: gapMm, minMm: inside.min, maxMm: inside.max };
    if (inside.min < gapMm - TOLERANCES.gap)
      findings.push(finding('nest-gap-not-met', 'error', facts, where));
    else if (inside.max > gapMm + TOLERANCES.gap)
      findings.push(finding('nest-gap-not-met', 'info', facts, where));
  }
  return { gives, trimmedMm3, areaMm2, middle, asked: { gapMm, rimMm }, gapMm: inside, rimGapMm };
}

/** Kept as long as the cut is. */
const known = new WeakMap<Cut, NestGap>();

function measured(cut: Cut, { gapMm, rimMm, gives }: NestFacts, seamId: string): NestGap {
  let gap = known.get(cut);
  if (!gap) {
    const surface = meshOf(cut[gives], (of) => isTrimmedBy({ of }, seamId));
    const cap = 2 * gapMm + 1;
    const other = beside(cut[otherThan(gives)], surface.triangles, cut[gives], cap);
    gap = measureNestGap(surface, other, gapMm, gapMm > 0 ? rimMm : 0, cap);
    known.set(cut, gap);
  }
  return gap;
}

const otherThan = (side: Side): Side => (side === 'front' ? 'back' : 'front');

/** The triangles of a part in blocks that come as near as `reach` (mm) to some of another's. */
function beside(part: Part, triangles: Uint32Array, of: Part, reach: number) {
  const others = [blocksOf(of, triangles)];
  const near = part.patches.flatMap((patch) => {
    const tree = blocksOf(part, patch.triangles);
    return blocksBeside(tree, others, reach).map((b) =>
      patch.triangles.subarray(tree.starts[b], tree.starts[b + 1]),
    );
  });
  return { positions: allPositions(part), triangles: joinIndices(near) };
}
