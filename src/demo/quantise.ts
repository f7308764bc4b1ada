import type { Mesh } from '../mesh/mesh.ts';

/** Steps in a millimetre of the shipped figure: fine enough that no eye or printer sees it, coarse enough to pack. */
export const STEPS_PER_MM = 512;

/** The mesh with every coordinate on the grid of 1/512 mm, which single precision holds exactly. */
export const quantise = (mesh: Mesh): Mesh => ({
  positions: mesh.positions.map((v) => Math.round(v * STEPS_PER_MM) / STEPS_PER_MM + 0),
  triangles: mesh.triangles,
});
