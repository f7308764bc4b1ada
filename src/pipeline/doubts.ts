import { type Finding, finding } from '../check/finding.ts';
import { add, sub, type Vec3 } from '../math/vec3.ts';
import { type FarSpecks, findFarSpecks } from '../mend/shells/far-specks.ts';
import { shellBlocks } from '../mend/shells/shell-blocks.ts';
import type { ShellOverlaps } from '../mend/shells/shell-overlaps.ts';
import type { Bounds } from '../mesh/measure.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { type Audit, isClosed } from '../mesh/topology/audit.ts';

/** Longest side of what anybody would part and print, mm: half a millimetre to ten metres. */
const LIKELY_MM = [0.5, 10_000] as const;
/** Places are known too coarsely where their step is more than this, mm, or this share of the longest side. */
const COARSE_MM = 0.01;
const COARSE_SHARE = 1e-3;

/** How the shells of a figure lie to each other. */
export interface ShellSurvey {
  overlaps: ShellOverlaps;
  far: FarSpecks | null;
}

const ONE_SHELL: ShellSurvey = {
  overlaps: { count: 0, at: null, pairs: [], boxes: [], complete: true },
  far: null,
};

/** The search for overlaps is loaded for closed figures of several shells alone. */
export async function surveyShells(mesh: Mesh, audit: Audit): Promise<ShellSurvey> {
  if (audit.shellCount < 2) return ONE_SHELL;
  const blocks = shellBlocks(mesh, audit);
  const far = findFarSpecks(blocks);
  if (!isClosed(audit)) return { ...ONE_SHELL, far };
  const { findShellOverlaps } = await import('../mend/shells/shell-overlaps.ts');
  return { overlaps: findShellOverlaps(mesh, audit, blocks), far };
}

/** What a person should look at before cutting, though it can be cut: each as a warning that leads to its remedy. */
export function doubts(
  { overlaps, far }: ShellSurvey,
  { shellCount }: Audit,
  { min, max }: Bounds,
  stepMm: number,
  originMm: Vec3,
): Finding[] {
  const findings: Finding[] = [];
  const longestMm = Math.max(...sub(max, min));
  const [leastMm, mostMm] = LIKELY_MM;
  if (longestMm < leastMm || longestMm > mostMm) {
    findings.push(finding('size-unlikely', 'warning', { longestMm, leastMm, mostMm }));
  }
  if (stepMm > Math.min(COARSE_MM, COARSE_SHARE * longestMm)) {
    findings.push(finding('coordinates-coarse', 'warning', { stepMm, sizeMm: longestMm }));
  }
  if (far) findings.push(finding('specks-far', 'warning', { ...far }));
  const { count, at, complete } = overlaps;
  if (count > 0 || !complete) {
    const where = at ? { at: add(at, originMm) } : {};
    findings.push(finding('shells-overlap', 'warning', { count, shells: shellCount, complete }, where));
  }
  return findings;
}
