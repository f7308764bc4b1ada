import type { Kernel } from '../../src/kernel/load.ts';
import { type Own, scoped } from '../../src/kernel/scope.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { compactMesh } from '../../src/mesh/part/part.ts';

/** The volumes (mm³) that only one of two closed meshes holds, by the solid kernel. */
export function symmetricDifference(kernel: Kernel, a: Mesh, b: Mesh): { onlyA: number; onlyB: number } {
  return scoped((own) => {
    const [sa, sb] = [solidOf(kernel, own, a), solidOf(kernel, own, b)];
    return { onlyA: own(sa.subtract(sb)).volume(), onlyB: own(sb.subtract(sa)).volume() };
  });
}

/** The mesh as a kernel solid; throws when the kernel does not take it. */
export function solidOf(kernel: Kernel, own: Own, mesh: Mesh) {
  const { positions, triangles } = compactMesh(mesh);
  const solid = own(
    kernel.Manifold.ofMesh(new kernel.Mesh({ numProp: 3, vertProperties: positions, triVerts: triangles })),
  );
  if (solid.status() !== 'NoError') throw new Error(`the kernel refuses the mesh: ${solid.status()}`);
  return solid;
}
