import { type Finding, finding } from '../check/finding.ts';
import { add, type Vec3 } from '../math/vec3.ts';
import type { CutSeam } from './cut-step.ts';
import type { TouchResult } from './evaluation.ts';

/** Where two bodies touch; what a flat across took from one of them for the other is told. Undefined for others. */
export function touchResult(
  { seam, cut }: CutSeam,
  originMm: Vec3,
  findings: Finding[],
): TouchResult | undefined {
  const { touch } = cut;
  if (!touch) return undefined;
  const middle = add(touch.middle, originMm);
  const { handed } = touch;
  if (handed) {
    const { from, volumeMm3, filledMm3 } = handed;
    const to = from === 'front' ? 'back' : 'front';
    const facts = { part: seam.names[to], from: { part: seam.names[from] }, volumeMm3, filledMm3 };
    findings.push(finding('flat-hands-over', 'info', facts, { seamId: seam.id, at: middle }));
  }
  return { areaMm2: touch.areaMm2, middle, filledMm3: handed?.filledMm3 ?? 0 };
}
