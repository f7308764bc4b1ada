import { PegwrightError } from '../../errors.ts';
import { boundsOf, measureMesh } from '../../mesh/measure.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { buildTriangleTree } from '../../mesh/near/triangle-tree.ts';
import { LIMITS } from '../../model/limits.ts';
import { buildWindingTree } from '../winding/generalised-winding.ts';
import { findCutCells } from './cut-cells.ts';
import { type Deviation, measureDeviation } from './deviation.ts';
import { estimateReSkin } from './estimate-re-skin.ts';
import { SparseGrid } from './sparse-grid.ts';
import { joinTriangles } from './triangles.ts';
import { placeVertices, type SkinVertices } from './vertices.ts';

export interface ReSkinOptions {
  /** Width of the grid's cells, mm: what is thinner than that may be lost. */
  cellMm: number;
  /** Told how far it is, 0 to 1. */
  onProgress?: ((done: number) => void) | undefined;
}

export interface ReSkinned {
  mesh: Mesh;
  deviation: Deviation;
  /** Volume of the new skin less that of the old triangles, mm³, in which overlaps count twice and holes are as if closed from the middle of the bounds. */
  volumeChangeMm3: number;
}

/** Shares of the time: until the cells are found, and until the mesh is made; the rest is measuring. */
const FOUND = 0.45;
const MADE = 0.65;

/**
 * A new skin around all that the old triangles wind round, whatever state they are in: holes are closed, overlaps
 * united, hollows kept. It is closed, edge- and vertex-manifold and wound outward. Triangles should be wound coherently
 * first: one that is not counts against its neighbours and leaves a dent about as deep as it is wide.
 *
 * The winding number is asked on a grid, near the triangles alone, and the surface where it is half is cut from the grid
 * cell by cell (`findCutCells`), its vertices on the old skin itself wherever there is one.
 * @throws PegwrightError `re-skin-too-fine` where it would outgrow the limits; `re-skin-empty` where nothing is inside.
 */
export function reSkin(mesh: Mesh, { cellMm, onProgress = () => {} }: ReSkinOptions): ReSkinned {
  const { cells: expected, leastCellMm } = estimateReSkin(mesh, cellMm);
  if (!(cellMm >= leastCellMm)) throw tooFine(cellMm, expected, leastCellMm);
  const tree = buildTriangleTree(mesh);
  const winding = buildWindingTree(tree);
  const grid = new SparseGrid(boundsOf(mesh), cellMm);
  // More than half of the surface closes holes then, and nobody can tell what a coarser one would take.
  const limit = {
    cells: 2 * LIMITS.reSkinCells,
    refuse: (cells: number) => tooFine(cellMm, cells, cellMm * 2),
  };
  const cut = findCutCells(mesh, winding, grid, limit, (done) => onProgress(done * FOUND));
  if (cut.masks.length === 0) throw new PegwrightError('re-skin-empty', { cellMm });
  const vertices = placeVertices(winding, cut, (done) => onProgress(FOUND + done * (MADE - FOUND)));
  const skin = { positions: toMm(grid, vertices), triangles: joinTriangles(cut, vertices) };
  const deviation = measureDeviation(winding, skin, cellMm, (done) => onProgress(MADE + done * (1 - MADE)));
  onProgress(1);
  return {
    mesh: skin,
    deviation,
    volumeChangeMm3: measureMesh(skin).volumeMm3 - measureMesh(mesh).volumeMm3,
  };
}

function tooFine(cellMm: number, cells: number, leastCellMm: number): PegwrightError {
  const { reSkinCells: limit, reSkinCellsAlong: limitAlong } = LIMITS;
  return new PegwrightError('re-skin-too-fine', { cellMm, leastCellMm, cells, limit, limitAlong });
}

function toMm({ origin, cellMm }: SparseGrid, { points }: SkinVertices): Float32Array {
  const positions = new Float32Array(points.length);
  for (let i = 0; i < points.length; i += 3) {
    positions[i] = origin[0] + cellMm * points[i];
    positions[i + 1] = origin[1] + cellMm * points[i + 1];
    positions[i + 2] = origin[2] + cellMm * points[i + 2];
  }
  return positions;
}
