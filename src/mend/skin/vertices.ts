import { nearestToPoint } from '../../mesh/near/triangle-tree.ts';
import { CUBE_LOOPS, EDGE_CORNERS } from '../../mesh/polygon/cube-loops.ts';
import { generalisedWinding, type WindingTree } from '../winding/generalised-winding.ts';
import type { CutCells } from './cut-cells.ts';
import { crossing, findCrossing } from './edge-crossing.ts';
import { PlaneMeeting } from './plane-meeting.ts';
import { RE_SKIN } from './tuning.ts';

/** The vertices of a new skin, in grid units (a cell is 1 wide, node 0, 0, 0 at zero): first those on grid edges. */
export interface SkinVertices {
  points: Float64Array;
  /** Unit normals of the old skin at the vertices on grid edges, either way round; zero where it has a hole. */
  normals: Float32Array;
  /** Per cut cell and axis, the vertex on the edge from its least node along the axis, where that edge is cut. */
  onEdge: Uint32Array;
  /** Per cut cell the vertex in its first loop; those of further loops follow. */
  inCell: Uint32Array;
}

/** The vertex on one of a cut cell's twelve edges. */
export function edgeVertex(
  { grid, places }: CutCells,
  onEdge: Uint32Array,
  cell: number,
  edge: number,
): number {
  const corner = EDGE_CORNERS[edge][0];
  const at = cell * 3;
  const owner = grid.address(
    places[at] + (corner & 1),
    places[at + 1] + ((corner >> 1) & 1),
    places[at + 2] + (corner >> 2),
  );
  return onEdge[grid.slots[owner] * 3 + (edge >> 2)];
}

/**
 * One vertex on every cut edge, where it passes through the old skin, and one in every loop of a cell: where the
 * planes at the loop's crossings meet, brought onto the old skin. It stays within its cell, and in
 * a cell of several loops at the middle of its own, so that the loops' fans keep apart.
 */
export function placeVertices(
  winding: WindingTree,
  cells: CutCells,
  onProgress: (done: number) => void,
): SkinVertices {
  const { onEdge, inCell, edges, count } = numberVertices(cells);
  const vertices: SkinVertices = {
    points: new Float64Array(count * 3),
    normals: new Float32Array(edges * 3),
    onEdge,
    inCell,
  };
  const cellCount = cells.masks.length;
  for (let cell = 0; cell < cellCount; cell++) {
    if (cell % 4096 === 0) onProgress(cell / cellCount / 2);
    crossEdges(winding, cells, vertices, cell);
  }
  const placer = new CellPlacer(winding, cells, vertices);
  for (let cell = 0; cell < cellCount; cell++) {
    if (cell % 4096 === 0) onProgress(0.5 + cell / cellCount / 2);
    placer.placeLoops(cell);
  }
  return vertices;
}

const isCut = (mask: number, axis: number): boolean => (mask & 1) !== ((mask >> (1 << axis)) & 1);

function numberVertices({ masks }: CutCells) {
  const onEdge = new Uint32Array(masks.length * 3);
  const inCell = new Uint32Array(masks.length);
  let count = 0;
  for (let cell = 0; cell < masks.length; cell++) {
    for (let axis = 0; axis < 3; axis++) if (isCut(masks[cell], axis)) onEdge[cell * 3 + axis] = count++;
  }
  const edges = count;
  for (let cell = 0; cell < masks.length; cell++) {
    inCell[cell] = count;
    count += CUBE_LOOPS[masks[cell]].length;
  }
  return { onEdge, inCell, edges, count };
}

const node = new Float64Array(3);

/** Places the vertices on the up to three cut edges from a cell's least node. */
function crossEdges(winding: WindingTree, cells: CutCells, vertices: SkinVertices, cell: number): void {
  const { grid, places, masks } = cells;
  const { points, normals, onEdge } = vertices;
  for (let axis = 0; axis < 3; axis++) {
    if (!isCut(masks[cell], axis)) continue;
    for (let k = 0; k < 3; k++) node[k] = grid.origin[k] + grid.cellMm * places[cell * 3 + k];
    const [i, j, l] = [places[cell * 3], places[cell * 3 + 1], places[cell * 3 + 2]];
    const from = grid.values[grid.address(i, j, l)];
    const to =
      grid.values[grid.address(i + Number(axis === 0), j + Number(axis === 1), l + Number(axis === 2))];
    findCrossing(winding, axis, node, grid.cellMm, from, to);
    const at = onEdge[cell * 3 + axis] * 3;
    for (let k = 0; k < 3; k++) points[at + k] = places[cell * 3 + k];
    points[at + axis] += clamp(crossing.along / grid.cellMm);
    const { nx, ny, nz } = crossing;
    const length = Math.sqrt(nx * nx + ny * ny + nz * nz) || 1;
    normals[at] = nx / length;
    normals[at + 1] = ny / length;
    normals[at + 2] = nz / length;
  }
}

/** A share of a cell's width kept off its ends. */
const clamp = (t: number): number => Math.min(1 - RE_SKIN.margin, Math.max(RE_SKIN.margin, t));

/** Places the vertices within cells. */
class CellPlacer {
  readonly #winding: WindingTree;
  readonly #cells: CutCells;
  readonly #vertices: SkinVertices;
  readonly #meeting = new PlaneMeeting();
  readonly #middle = new Float64Array(3);

  constructor(winding: WindingTree, cells: CutCells, vertices: SkinVertices) {
    this.#winding = winding;
    this.#cells = cells;
    this.#vertices = vertices;
  }

  placeLoops(cell: number): void {
    const loops = CUBE_LOOPS[this.#cells.masks[cell]];
    const { points, inCell } = this.#vertices;
    for (let l = 0; l < loops.length; l++) {
      this.#gather(cell, loops[l].edges);
      if (loops.length === 1) this.#settle(cell);
      points.set(this.#meeting.at, (inCell[cell] + l) * 3);
    }
  }

  /** Puts the middle of a loop's crossings in the meeting. */
  #gather(cell: number, edges: readonly number[]): void {
    const { points: p, normals: n, onEdge } = this.#vertices;
    this.#meeting.start();
    for (let e = 0; e < edges.length; e++) {
      const v = edgeVertex(this.#cells, onEdge, cell, edges[e]) * 3;
      this.#meeting.add(p[v], p[v + 1], p[v + 2], n[v], n[v + 1], n[v + 2]);
    }
    this.#meeting.takeMiddle();
  }

  /** Moves the vertex from the middle to where the planes meet, then onto the old skin, as far as the cell allows. */
  #settle(cell: number): void {
    const at = this.#meeting.at;
    const places = this.#cells.places;
    this.#middle.set(at);
    this.#meeting.meet();
    let within = true;
    for (let k = 0; k < 3; k++) within &&= at[k] >= places[cell * 3 + k] && at[k] <= places[cell * 3 + k] + 1;
    if (!within) at.set(this.#middle);
    this.#project();
    for (let k = 0; k < 3; k++) {
      const low = places[cell * 3 + k];
      at[k] = low + clamp(at[k] - low);
    }
  }

  /** Moves the vertex to the nearest point of the old skin, if that is near and the inside ends there. */
  #project(): void {
    const at = this.#meeting.at;
    const { origin, cellMm } = this.#cells.grid;
    const x = origin[0] + cellMm * at[0];
    const y = origin[1] + cellMm * at[1];
    const z = origin[2] + cellMm * at[2];
    const found = nearestToPoint(this.#winding.tree, [x, y, z], cellMm);
    if (!found || found.distance === 0) return;
    const [px, py, pz] = found.onTree;
    if (found.distance > RE_SKIN.trusted * cellMm) {
      const step = (RE_SKIN.aside * cellMm) / found.distance;
      const [dx, dy, dz] = [(x - px) * step, (y - py) * step, (z - pz) * step];
      const before = generalisedWinding(this.#winding, px + dx, py + dy, pz + dz) >= RE_SKIN.inside;
      const behind = generalisedWinding(this.#winding, px - dx, py - dy, pz - dz) >= RE_SKIN.inside;
      if (before === behind) return;
    }
    at[0] = (px - origin[0]) / cellMm;
    at[1] = (py - origin[1]) / cellMm;
    at[2] = (pz - origin[2]) / cellMm;
  }
}
