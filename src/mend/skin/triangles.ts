import { CUBE_LOOPS, EDGE_CORNERS } from '../../mesh/polygon/cube-loops.ts';
import type { CutCells } from './cut-cells.ts';
import { RE_SKIN } from './tuning.ts';
import { edgeVertex, type SkinVertices } from './vertices.ts';

/** A piece of a loop on a side of its cell that looks along an axis: from one cut edge to the next. */
interface Piece {
  /** Which of the cell's loops. */
  loop: number;
  from: number;
  to: number;
  axis: number;
  /** False where the side holds two pieces. */
  alone: boolean;
}

/** For each pattern of inside corners, the pieces on the three sides farther along an axis; the other three are a neighbour's. */
const PIECES: readonly (readonly Piece[])[] = CUBE_LOOPS.map((loops) => {
  const pieces = loops.flatMap(({ edges }, loop) =>
    edges.flatMap((from, i) => {
      const to = edges[(i + 1) % edges.length];
      const axis = [0, 1, 2].findIndex((k) =>
        [...EDGE_CORNERS[from], ...EDGE_CORNERS[to]].every((c) => (c >> k) & 1),
      );
      return axis < 0 ? [] : [{ loop, from, to, axis }];
    }),
  );
  return pieces.map((piece) => ({
    ...piece,
    alone: pieces.filter((p) => p.axis === piece.axis).length === 1,
  }));
});

/** An edge on the side of a cell farther along `axis`, as the neighbour there numbers it. */
const acrossEdge = (edge: number, axis: number): number => {
  const [a, b] = EDGE_CORNERS[edge].map((c) => c & ~(1 << axis));
  return EDGE_CORNERS.findIndex(([p, q]) => p === a && q === b);
};
const ACROSS: readonly (readonly number[])[] = [0, 1, 2].map((axis) =>
  EDGE_CORNERS.map((_, edge) => acrossEdge(edge, axis)),
);

/**
 * Four triangles about each vertex on a grid edge, or rather two for each piece of a loop on the side between two cells.
 *
 * Each loop is fanned from its cell's vertex. A fan from a point within a convex cell over a simple loop on the
 * cell's border cannot cross itself, and cells do not overlap, so nothing crosses: only in cells of several loops
 * does that rest on each vertex lying within its own loop's hull. The edge between two fans may be flipped to
 * run from cell to cell, as along a sharp edge it must (Kobbelt, Botsch, Schwanecke & Seidel, *Feature Sensitive
 * Surface Extraction from Volume Data*, SIGGRAPH 2001), where it passes through the side between them, for then
 * either fan is one over a simple loop still. Every edge has its two triangles by construction.
 */
export function joinTriangles(cells: CutCells, vertices: SkinVertices): Uint32Array {
  const { masks } = cells;
  let count = 0;
  for (let cell = 0; cell < masks.length; cell++) count += PIECES[masks[cell]].length;
  const triangles = new Uint32Array(count * 6);
  let at = 0;
  for (let cell = 0; cell < masks.length; cell++) {
    const pieces = PIECES[masks[cell]];
    for (let i = 0; i < pieces.length; i++, at += 6)
      joinAcross(cells, vertices, cell, pieces[i], triangles, at);
  }
  return triangles;
}

function joinAcross(
  cells: CutCells,
  vertices: SkinVertices,
  cell: number,
  { loop, from, to, axis, alone }: Piece,
  triangles: Uint32Array,
  at: number,
): void {
  const { grid, places, masks } = cells;
  const place = cell * 3;
  const beyond = grid.address(
    places[place] + Number(axis === 0),
    places[place + 1] + Number(axis === 1),
    places[place + 2] + Number(axis === 2),
  );
  const neighbour = grid.slots[beyond];
  const loops = CUBE_LOOPS[masks[neighbour]];
  let theirs = 0;
  while (!loops[theirs].edges.includes(ACROSS[axis][from])) theirs++;
  const mine = vertices.inCell[cell] + loop;
  const other = vertices.inCell[neighbour] + theirs;
  const start = edgeVertex(cells, vertices.onEdge, cell, from);
  const end = edgeVertex(cells, vertices.onEdge, cell, to);
  const free = alone && loops.length === 1 && CUBE_LOOPS[masks[cell]].length === 1;
  const flip =
    free &&
    passesThrough(vertices.points, mine, other, places, place, axis) &&
    liesNearer(vertices, mine, other, start, end);
  triangles[at] = mine;
  triangles[at + 1] = start;
  triangles[at + 2] = flip ? other : end;
  triangles[at + 3] = other;
  triangles[at + 4] = end;
  triangles[at + 5] = flip ? mine : start;
}

/** Whether the line between two cells' vertices passes through the side between the cells, clear of its rim. */
function passesThrough(
  p: Float64Array,
  mine: number,
  other: number,
  places: Uint32Array,
  place: number,
  axis: number,
): boolean {
  const a = mine * 3;
  const b = other * 3;
  const t = (places[place + axis] + 1 - p[a + axis]) / (p[b + axis] - p[a + axis]);
  for (let k = 1; k < 3; k++) {
    const side = (axis + k) % 3;
    const within = p[a + side] + t * (p[b + side] - p[a + side]) - places[place + side];
    if (within < RE_SKIN.margin || within > 1 - RE_SKIN.margin) return false;
  }
  return true;
}

/** Whether the middle between two cells' vertices is at least as near to the planes at two crossings as the middle of those. */
function liesNearer(
  { points: p, normals: n }: SkinVertices,
  mine: number,
  other: number,
  start: number,
  end: number,
): boolean {
  const s = start * 3;
  const e = end * 3;
  let [toStart, toEnd, chordToStart, chordToEnd] = [0, 0, 0, 0];
  for (let k = 0; k < 3; k++) {
    const middle = (p[mine * 3 + k] + p[other * 3 + k]) / 2;
    const half = (p[e + k] - p[s + k]) / 2;
    toStart += n[s + k] * (middle - p[s + k]);
    toEnd += n[e + k] * (middle - p[e + k]);
    chordToStart += n[s + k] * half;
    chordToEnd += n[e + k] * half;
  }
  return Math.abs(toStart) + Math.abs(toEnd) <= Math.abs(chordToStart) + Math.abs(chordToEnd);
}
