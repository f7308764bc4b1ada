import { float32Step } from '../../math/tolerances.ts';
import { boundsOf, measureMesh } from '../../mesh/measure.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { LIMITS } from '../../model/limits.ts';
import { RE_SKIN } from './tuning.ts';

/** What a re-skin would come to. */
export interface ReSkinEstimate {
  /** Cells the surface passes through, holes not counted. */
  cells: number;
  triangles: number;
  /** Rough time on a machine of two cores. */
  seconds: number;
  /** The smallest cell that keeps within the limits, mm. */
  leastCellMm: number;
}

/** Counts from the mesh's area; sheets inside a body are counted, though they take no cells in the end. */
export function estimateReSkin(mesh: Mesh, cellMm: number): ReSkinEstimate {
  const { areaMm2 } = measureMesh(mesh);
  const cells = Math.ceil((RE_SKIN.cellsPerArea * areaMm2) / (cellMm * cellMm));
  return {
    cells,
    triangles: cells * RE_SKIN.trianglesPerCell,
    seconds: cells * RE_SKIN.secondsPerCell,
    leastCellMm: leastCell(mesh, areaMm2),
  };
}

/** Bounded by how many cells may be cut, how many may lie along a side, and what single precision tells apart. */
function leastCell(mesh: Mesh, areaMm2: number): number {
  const { min, max } = boundsOf(mesh);
  const byCount = Math.sqrt((RE_SKIN.cellsPerArea * areaMm2) / LIMITS.reSkinCells);
  const bySide = longestSide(mesh) / LIMITS.reSkinCellsAlong;
  const farthest = Math.max(...[0, 1, 2].map((k) => Math.max(Math.abs(min[k]), Math.abs(max[k]))));
  return Math.max(byCount, bySide, RE_SKIN.leastSteps * float32Step(farthest));
}

function longestSide(mesh: Mesh): number {
  const { min, max } = boundsOf(mesh);
  return Math.max(...[0, 1, 2].map((k) => max[k] - min[k]));
}

/** Edges looked at to judge how fine a mesh is. */
const LOOKED_AT = 10_000;

/**
 * A cell as wide as the mesh's middling edge is long, so that detail is kept and none is invented; between 1/128 and
 * 1/256 of its longest side, never finer than the limits allow; rounded up to two figures.
 */
export function suggestCellMm(mesh: Mesh): number {
  const [coarse, fine] = RE_SKIN.suggested.map((cells) => longestSide(mesh) / cells);
  const cell = Math.max(
    Math.min(Math.max(middlingEdge(mesh), fine), coarse),
    estimateReSkin(mesh, 1).leastCellMm,
  );
  if (cell === 0) return 0;
  const unit = 10 ** (Math.floor(Math.log10(cell)) - 1);
  return Number((Math.ceil(cell / unit) * unit).toPrecision(2));
}

function middlingEdge({ positions: p, triangles: t }: Mesh): number {
  const step = Math.max(1, Math.floor(t.length / 3 / LOOKED_AT)) * 3;
  const lengths: number[] = [];
  for (let i = 0; i < t.length; i += step) {
    const a = t[i] * 3;
    const b = t[i + 1] * 3;
    lengths.push(Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]));
  }
  return lengths.sort((x, y) => x - y)[lengths.length >> 1] ?? 0;
}
