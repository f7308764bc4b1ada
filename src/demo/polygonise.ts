import { CUBE_LOOPS, EDGE_CORNERS } from '../mesh/polygon/cube-loops.ts';
import type { Box } from './field.ts';
import { GrowingFloats } from './growing.ts';
import type { RawMesh } from './raw-mesh.ts';

type Distance = (x: number, y: number, z: number) => number;

/** Cells along one side of a block, the unit in which space is searched. */
const BLOCK = 4;
const NODES = BLOCK + 1;
/** Blocks along one side of the larger cubes that are looked at first. */
const SUPER = 4;
/** Blocks farther from the surface than this many half diagonals are not looked into first. */
const SEED_REACH = 1.3;
/** Vertices keep this share of an edge away from its ends, so that no sliver is born. */
const EDGE_MARGIN = 0.2;

interface Grid {
  origin: readonly [number, number, number];
  cell: number;
  blocks: readonly [number, number, number];
}

/**
 * The zero surface of `distance` in `box`, cut cell by cell from a cubic grid: closed, 2-manifold and
 * wound outward whatever the distances are, as long as they are positive on the box's border.
 * Blocks near the surface are found from the distance at their middle; a surface that leaves a block
 * is followed into the next, so a poor distance costs time and never a hole.
 * Vertices lie near the surface, not on it (see EDGE_MARGIN): settle them afterwards.
 */
export function polygonise(distance: Distance, box: Box, cell: number): RawMesh {
  const grid = makeGrid(box, cell);
  const surface = new SurfaceBuilder(grid);
  const seen = new Uint8Array(grid.blocks[0] * grid.blocks[1] * grid.blocks[2]);
  const queue = seedBlocks(distance, grid, seen);
  const values = new Float64Array(NODES ** 3);
  for (let block = queue.pop(); block !== undefined; block = queue.pop()) {
    const at = blockPlace(grid, block);
    fillValues(distance, grid, at, values);
    surface.addBlock(at, values);
    queueNeighbours(grid, at, values, seen, queue);
  }
  return surface.finish();
}

function makeGrid(box: Box, cell: number): Grid {
  const blocks = [0, 1, 2].map((k) => Math.ceil((box[k + 3] - box[k]) / (cell * BLOCK)) + 2);
  // The odd share keeps grid nodes off planes on which figures like to lie, such as z = 0.
  const origin = [0, 1, 2].map((k) => box[k] - cell * (BLOCK * 0.5 + 0.37));
  return {
    origin: [origin[0], origin[1], origin[2]],
    cell,
    blocks: [blocks[0], blocks[1], blocks[2]],
  };
}

/** First cell of a block, by the block's number. */
function blockPlace({ blocks }: Grid, block: number): [number, number, number] {
  const x = block % blocks[0];
  const y = Math.floor(block / blocks[0]) % blocks[1];
  const z = Math.floor(block / (blocks[0] * blocks[1]));
  return [x * BLOCK, y * BLOCK, z * BLOCK];
}

/** Blocks that may hold surface, found among larger ones that may. */
function seedBlocks(distance: Distance, grid: Grid, seen: Uint8Array): number[] {
  const queue: number[] = [];
  forEachStep(grid.blocks, [0, 0, 0], SUPER, (i, j, k) => {
    if (!mayHoldSurface(distance, grid, i, j, k, SUPER)) return;
    const end = [i, j, k].map((n, axis) => Math.min(n + SUPER, grid.blocks[axis]));
    forEachStep(end, [i, j, k], 1, (x, y, z) => {
      if (!mayHoldSurface(distance, grid, x, y, z, 1)) return;
      const block = x + grid.blocks[0] * (y + grid.blocks[1] * z);
      seen[block] = 1;
      queue.push(block);
    });
  });
  return queue;
}

type Visit = (x: number, y: number, z: number) => void;

function forEachStep(end: readonly number[], start: readonly number[], step: number, visit: Visit): void {
  for (let z = start[2]; z < end[2]; z += step) {
    for (let y = start[1]; y < end[1]; y += step) {
      for (let x = start[0]; x < end[0]; x += step) visit(x, y, z);
    }
  }
}

/** Whether the cube of `blocks` blocks from block x, y, z on is near enough to the surface, judged from its middle. */
function mayHoldSurface(
  distance: Distance,
  grid: Grid,
  x: number,
  y: number,
  z: number,
  blocks: number,
): boolean {
  const side = BLOCK * grid.cell;
  const half = (blocks * side) / 2;
  const [ox, oy, oz] = grid.origin;
  const d = distance(ox + x * side + half, oy + y * side + half, oz + z * side + half);
  return Math.abs(d) <= SEED_REACH * half * Math.sqrt(3);
}

function fillValues(distance: Distance, grid: Grid, at: readonly number[], values: Float64Array): void {
  let n = 0;
  for (let k = 0; k < NODES; k++) {
    for (let j = 0; j < NODES; j++) {
      for (let i = 0; i < NODES; i++) {
        values[n++] = distance(
          grid.origin[0] + (at[0] + i) * grid.cell,
          grid.origin[1] + (at[1] + j) * grid.cell,
          grid.origin[2] + (at[2] + k) * grid.cell,
        );
      }
    }
  }
}

/** Queues each neighbour across a block side on which the surface shows. */
function queueNeighbours(
  grid: Grid,
  at: number[],
  values: Float64Array,
  seen: Uint8Array,
  queue: number[],
): void {
  const strides = [1, NODES, NODES * NODES];
  for (let axis = 0; axis < 3; axis++) {
    const u = strides[(axis + 1) % 3];
    const v = strides[(axis + 2) % 3];
    for (const side of [0, 1]) {
      const base = side * BLOCK * strides[axis];
      const first = values[base] < 0;
      let mixed = false;
      for (let a = 0; a < NODES && !mixed; a++) {
        for (let b = 0; b < NODES && !mixed; b++) mixed = values[base + a * u + b * v] < 0 !== first;
      }
      if (mixed) queueBlock(grid, at, axis, side * 2 - 1, seen, queue);
    }
  }
}

function queueBlock(
  grid: Grid,
  at: number[],
  axis: number,
  step: number,
  seen: Uint8Array,
  queue: number[],
): void {
  const place = at.map((n, k) => n / BLOCK + (k === axis ? step : 0));
  if (place[axis] < 0 || place[axis] >= grid.blocks[axis]) return;
  const block = place[0] + grid.blocks[0] * (place[1] + grid.blocks[1] * place[2]);
  if (seen[block]) return;
  seen[block] = 1;
  queue.push(block);
}

/** Collects triangles, with one vertex for each cut grid edge. */
class SurfaceBuilder {
  readonly #grid: Grid;
  readonly #positions = new GrowingFloats();
  readonly #triangles = new GrowingFloats();
  readonly #vertexOfEdge = new Map<number, number>();
  readonly #corners = new Float64Array(8);

  constructor(grid: Grid) {
    this.#grid = grid;
  }

  addBlock(at: readonly [number, number, number], values: Float64Array): void {
    for (let k = 0; k < BLOCK; k++) {
      for (let j = 0; j < BLOCK; j++) {
        for (let i = 0; i < BLOCK; i++) {
          let inside = 0;
          for (let c = 0; c < 8; c++) {
            const v = values[i + (c & 1) + NODES * (j + ((c >> 1) & 1) + NODES * (k + (c >> 2)))];
            this.#corners[c] = v;
            if (v < 0) inside |= 1 << c;
          }
          if (inside !== 0 && inside !== 255) this.#addCell(at[0] + i, at[1] + j, at[2] + k, inside);
        }
      }
    }
  }

  #addCell(i: number, j: number, k: number, inside: number): void {
    for (const loop of CUBE_LOOPS[inside]) {
      const around = loop.edges.map((e) => this.#vertex(i, j, k, e));
      if (loop.needsMiddle) around.push(this.#middle(around));
      for (let t = 0; t < loop.triangles.length; t += 3) {
        this.#triangles.push3(
          around[loop.triangles[t]],
          around[loop.triangles[t + 1]],
          around[loop.triangles[t + 2]],
        );
      }
    }
  }

  #vertex(i: number, j: number, k: number, edge: number): number {
    const [c, d] = EDGE_CORNERS[edge];
    const axis = edge >> 2;
    const x = i + (c & 1);
    const y = j + ((c >> 1) & 1);
    const z = k + (c >> 2);
    const [nx, ny] = [this.#grid.blocks[0] * BLOCK + 1, this.#grid.blocks[1] * BLOCK + 1];
    const key = (x + nx * (y + ny * z)) * 3 + axis;
    const known = this.#vertexOfEdge.get(key);
    if (known !== undefined) return known;
    const [a, b] = [this.#corners[c], this.#corners[d]];
    const t = Math.min(1 - EDGE_MARGIN, Math.max(EDGE_MARGIN, a / (a - b)));
    const { origin, cell } = this.#grid;
    const vertex = this.#positions.length / 3;
    this.#positions.push3(
      origin[0] + cell * (x + (axis === 0 ? t : 0)),
      origin[1] + cell * (y + (axis === 1 ? t : 0)),
      origin[2] + cell * (z + (axis === 2 ? t : 0)),
    );
    this.#vertexOfEdge.set(key, vertex);
    return vertex;
  }

  #middle(around: readonly number[]): number {
    const sum = [0, 0, 0];
    for (const v of around)
      for (let k = 0; k < 3; k++) sum[k] += this.#positions.get(v * 3 + k) / around.length;
    this.#positions.push3(sum[0], sum[1], sum[2]);
    return this.#positions.length / 3 - 1;
  }

  finish(): RawMesh {
    return { positions: this.#positions.toArray(), triangles: Uint32Array.from(this.#triangles.toArray()) };
  }
}
