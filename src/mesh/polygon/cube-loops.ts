/**
 * How a surface passes through one grid cell, for each of the 256 ways its eight corners can lie
 * inside or outside.
 *
 * Corner c of a cell is at (c & 1, c >> 1 & 1, c >> 2 & 1). Edge 4·axis + k runs along `axis` from
 * the k-th corner whose bit of that axis is 0. On a face with inside corners at both ends of one
 * diagonal the two are kept apart; both cells at the face decide alike, so the surface closes.
 */

/** Corner pairs of the twelve edges. */
export const EDGE_CORNERS: readonly (readonly [number, number])[] = [0, 1, 2].flatMap((axis) =>
  [0, 1, 2, 3, 4, 5, 6, 7].filter((c) => !(c & (1 << axis))).map((c) => [c, c | (1 << axis)] as const),
);

/** A closed loop over cut edges, as triangles of loop positions; position `edges.length` is the middle of the loop. */
export interface Loop {
  edges: readonly number[];
  triangles: readonly number[];
  needsMiddle: boolean;
}

const edgeBetween = (a: number, b: number): number =>
  EDGE_CORNERS.findIndex(([p, q]) => (p === a && q === b) || (p === b && q === a));

/** Corners of the six faces, counter-clockwise seen from outside the cell. */
const FACES: readonly (readonly number[])[] = [0, 1, 2].flatMap((axis) => {
  const [u, v, w] = [1 << ((axis + 1) % 3), 1 << ((axis + 2) % 3), 1 << axis];
  return [
    [0, v, u | v, u],
    [w, w | u, w | u | v, w | v],
  ];
});

const FACES_OF_EDGE: readonly (readonly number[])[] = EDGE_CORNERS.map(([a, b]) =>
  FACES.flatMap((face, i) => (face.includes(a) && face.includes(b) ? [i] : [])),
);

const shareFace = (e: number, f: number): boolean =>
  FACES_OF_EDGE[e].some((i) => FACES_OF_EDGE[f].includes(i));

function loopsOf(inside: number): Loop[] {
  const next = new Map<number, number>();
  for (const face of FACES) {
    const isIn = face.map((c) => (inside >> c) & 1);
    for (let i = 0; i < 4; i++) {
      const enters = !isIn[i] && isIn[(i + 1) % 4];
      if (!enters) continue;
      let j = (i + 1) % 4;
      while (isIn[(j + 1) % 4]) j = (j + 1) % 4;
      next.set(edgeBetween(face[i], face[(i + 1) % 4]), edgeBetween(face[j], face[(j + 1) % 4]));
    }
  }
  const loops: Loop[] = [];
  while (next.size > 0) {
    const edges: number[] = [];
    let e = next.keys().next().value!;
    while (next.has(e)) {
      edges.push(e);
      const after = next.get(e)!;
      next.delete(e);
      e = after;
    }
    loops.push(triangulate(edges));
  }
  return loops;
}

/**
 * A fan from a corner none of whose chords lies in a face of the cell: the neighbour might draw the
 * same chord, and four triangles would meet there. Where there is no such corner, a fan from the middle.
 */
function triangulate(edges: number[]): Loop {
  const n = edges.length;
  const apex = edges.findIndex((e, i) => edges.every((f, j) => isNoChord(n, i, j) || !shareFace(e, f)));
  const needsMiddle = apex < 0;
  const triangles: number[] = [];
  if (needsMiddle) for (let i = 0; i < n; i++) triangles.push(n, i, (i + 1) % n);
  else for (let i = 1; i + 1 < n; i++) triangles.push(apex, (apex + i) % n, (apex + i + 1) % n);
  return { edges, triangles, needsMiddle };
}

/** True for the pairs of loop positions that are no chord: a position and itself or its neighbours. */
function isNoChord(n: number, i: number, j: number): boolean {
  return [0, 1, n - 1].includes((j - i + n) % n);
}

/** Loops for each pattern of inside corners (bit c set = corner c inside), counter-clockwise from outside the solid. */
export const CUBE_LOOPS: readonly (readonly Loop[])[] = Array.from({ length: 256 }, (_, inside) =>
  loopsOf(inside),
);
