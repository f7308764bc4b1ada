import type { Peg, Process, ResolvedPeg, SeamResult } from '../../src/index.ts';

/**
 * A seam's pegs with every size settled, by index: what the job says now over what the engine last
 * settled. Null where the engine has not placed one, or where pegs came or went since it answered.
 */
export function settledPegs(
  pegs: readonly Peg[],
  result: SeamResult,
  process: Process,
): (ResolvedPeg | null)[] {
  const known = Math.max(-1, ...result.pegs.map((peg) => peg.index)) + 1;
  return pegs.map((peg, index) => {
    const settled = result.pegs.find((one) => one.index === index)?.peg;
    if (!settled || known > pegs.length) return null;
    return {
      kind: peg.kind,
      at: peg.at === 'auto' ? settled.at : peg.at,
      widthMm: peg.widthMm ?? settled.widthMm,
      heightMm: peg.heightMm ?? settled.heightMm,
      lengthMm: peg.lengthMm ?? settled.lengthMm,
      draftDeg: peg.draftDeg ?? settled.draftDeg,
      edgeRadiusMm: peg.edgeRadiusMm ?? settled.edgeRadiusMm,
      spinDeg: peg.spinDeg ?? settled.spinDeg,
      sideGapMm: peg.sideGapMm ?? process.sideGapMm,
      endGapMm: peg.endGapMm ?? process.endGapMm,
    };
  });
}
