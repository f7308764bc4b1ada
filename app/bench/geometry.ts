import { BufferAttribute, BufferGeometry, Sphere, Vector3 } from 'three';
import type { DisplayMesh, Mesh } from '../../src/index.ts';
import type { Ball } from './scene-space.ts';

/**
 * A mesh handed to the renderer as it is: the arrays are shared, not copied, and the
 * bounding ball is given, so that nothing here takes time in proportion to the mesh.
 */
export function geometryOf(mesh: Mesh | DisplayMesh, ball: Ball): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(mesh.positions, 3));
  if ('normals' in mesh) geometry.setAttribute('normal', new BufferAttribute(mesh.normals, 3));
  geometry.setIndex(new BufferAttribute(mesh.triangles, 1));
  geometry.boundingSphere = new Sphere(new Vector3(...ball.centre), ball.radius);
  return geometry;
}
