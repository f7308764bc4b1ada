import type { Repair } from '../mend/report/repair.ts';
import { boundsOf, measureMesh } from '../mesh/measure.ts';
import { isClosed } from '../mesh/topology/audit.ts';
import type { Mend } from '../model/mend.ts';
import type { OnProgress } from '../progress.ts';
import { enclosesVolume, type Sculpt } from './sculpt.ts';

/**
 * What a change of shape would do to a sculpt, which stays as it is.
 * @throws PegwrightError where the change fails, as on opening.
 */
export async function tryMend(
  { mesh, bodies }: Sculpt,
  mend: Mend,
  onProgress: OnProgress,
): Promise<{ repairs: Repair[]; triangles: number; solid: boolean }> {
  onProgress('mending', 0);
  // Loaded when it is needed, as on opening.
  const { mendFigure } = await import('./mend-step.ts');
  const tried = await mendFigure(mesh, bodies, [mend], (done) => onProgress('mending', done));
  const hasVolume = enclosesVolume(measureMesh(tried.mesh), boundsOf(tried.mesh));
  return {
    repairs: tried.repairs,
    triangles: tried.mesh.triangles.length / 3,
    solid: isClosed(tried.audit) && hasVolume,
  };
}
