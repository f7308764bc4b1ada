/**
 * An indexed triangle mesh. `positions` holds x, y, z per vertex in mm, right-handed, Z up;
 * `triangles` three vertex indices per triangle, counter-clockwise seen from outside.
 * Meshes are values: no function of the engine changes one it was given.
 */
export interface Mesh {
  positions: Float32Array;
  triangles: Uint32Array;
}

export const vertexCount = (mesh: Mesh): number => mesh.positions.length / 3;
export const triangleCount = (mesh: Mesh): number => mesh.triangles.length / 3;
