import type { Mesh } from '../../mesh/mesh.ts';
import { type Audit, isClosed, NO_SHELL } from '../../mesh/topology/audit.ts';

/** True where a mesh is closed and has neither pointed nor doubled triangles; its shells may be inside out. */
export const isSound = (audit: Audit): boolean =>
  isClosed(audit) && audit.pointedTriangles.length === 0 && audit.duplicateTriangles === 0;

/** True where the safe steps may have something to do. Told quickly, for most figures need nothing. */
export const needsMending = (mesh: Mesh, audit: Audit): boolean => !isSound(audit) || hasInward(mesh, audit);

/** True where a shell encloses a negative volume by its own winding. */
export function hasInward({ positions: p, triangles: t }: Mesh, { shellOf, shellCount }: Audit): boolean {
  const volumes = new Float64Array(shellCount);
  for (let i = 0; i < shellOf.length; i++) {
    if (shellOf[i] === NO_SHELL) continue;
    const a = t[i * 3] * 3;
    const b = t[i * 3 + 1] * 3;
    const c = t[i * 3 + 2] * 3;
    volumes[shellOf[i]] +=
      p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) +
      p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return volumes.some((volume) => volume < 0);
}
