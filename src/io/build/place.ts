import { LIMITS } from '../../model/limits.ts';
import { type Feed, malformed, tooMany } from '../bytes/feed.ts';
import { checkTriangleCount, type RawBody, type RawMesh } from '../raw-mesh.ts';
import { type Affine, isIdentity, isMirroring, mapPoints } from './affine.ts';

/** A mesh that a file keeps once, put somewhere; the same mesh may be put in many places. */
export interface Placed {
  name: string;
  mesh: RawMesh;
  at: Affine;
}

/** Refuses one more copy than a sculpt may have. */
export function checkBodyCount(feed: Feed, count: number): void {
  if (count > LIMITS.bodies) throw tooMany(feed, 'bodies');
}

/**
 * All placed meshes as one, a body each, in order. A mirrored mesh has its triangles turned, so that its outside
 * stays outside. A single mesh that stays where it is keeps its arrays.
 */
export function placeAll(feed: Feed, placed: readonly Placed[]): RawMesh {
  checkTriangleCount(
    feed,
    placed.reduce((n, { mesh }) => n + mesh.triangles.length / 3, 0),
  );
  const solid = placed.filter(({ mesh }) => mesh.triangles.length > 0);
  const bodies: RawBody[] = solid.map(({ name, mesh }) => ({
    name,
    triangleCount: mesh.triangles.length / 3,
  }));
  if (solid.length === 1 && isIdentity(solid[0].at)) return { ...solid[0].mesh, bodies };
  const positions = new Float64Array(solid.reduce((n, { mesh }) => n + mesh.positions.length, 0));
  const triangles = new Uint32Array(solid.reduce((n, { mesh }) => n + mesh.triangles.length, 0));
  let vertex = 0;
  let corner = 0;
  for (const { mesh, at } of solid) {
    if (!at.every(Number.isFinite)) throw malformed(feed, { is: 'placement-not-numbers' });
    mapPoints(mesh.positions, at, positions, vertex * 3);
    copyTriangles(mesh.triangles, vertex, isMirroring(at), triangles, corner);
    vertex += mesh.positions.length / 3;
    corner += mesh.triangles.length;
  }
  return { positions, triangles, bodies };
}

function copyTriangles(
  src: Uint32Array,
  firstVertex: number,
  turned: boolean,
  dst: Uint32Array,
  at: number,
): void {
  const [second, third] = turned ? [2, 1] : [1, 2];
  for (let i = 0; i < src.length; i += 3) {
    dst[at + i] = src[i] + firstVertex;
    dst[at + i + 1] = src[i + second] + firstVertex;
    dst[at + i + 2] = src[i + third] + firstVertex;
  }
}
