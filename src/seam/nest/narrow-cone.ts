import type { Vec3 } from '../../math/vec3.ts';

/** Vertices and triangles that close a border. */
export interface Closing {
  /** x, y, z per vertex that is new, mm. */
  added: number[];
  /** Index triples: the border's own vertices, then those that are new from `first` on. */
  triangles: number[];
}

/** How much longer than its row's edges are wide a row is, about: on a loop as round as a circle. */
const ROW = 2 * Math.PI;
/** A row of fewer edges goes to the tip at once. */
const LAST = 16;

/**
 * Closes a border's loops towards a tip with rows of half as many vertices each, and a fan at the end. A plain cone has as
 * many long thin triangles as the border has edges, whose boxes all overlap, and a boolean looks at each two of them.
 * @param border directed edges (two vertices each), as the triangles run that it bounds; each vertex starts one.
 * @param positions x, y, z per vertex, mm.
 */
export function narrowCone(positions: Float32Array, border: Uint32Array, tip: Vec3, first: number): Closing {
  const closing: Closing = { added: [...tip], triangles: [] };
  for (const loop of loopsOf(border)) {
    let row = loop;
    for (let share = ROW / loop.length; row.length > LAST && share < 0.5; share *= 2)
      row = addRow(positions, loop, row, tip, share * 2, first, closing);
    row.forEach(({ id }, i) => {
      closing.triangles.push(row[(i + 1) % row.length].id, id, first);
    });
  }
  return closing;
}

/** A vertex of a row, and the place in its loop from which its way to the tip starts. */
interface RowVertex {
  id: number;
  from: number;
}

/** A row over every second vertex of the one below, `share` of the way to the tip. */
function addRow(
  p: Float32Array,
  loop: readonly RowVertex[],
  below: readonly RowVertex[],
  tip: Vec3,
  share: number,
  first: number,
  { added, triangles }: Closing,
): RowVertex[] {
  const row = below
    .filter((_, i) => i % 2 === 0)
    .map(({ from }): RowVertex => {
      const at = loop[from].id * 3;
      for (let k = 0; k < 3; k++) added.push(p[at + k] + share * (tip[k] - p[at + k]));
      return { id: first + added.length / 3 - 1, from };
    });
  below.forEach(({ id }, i) => {
    const next = below[(i + 1) % below.length].id;
    const over = row[i >> 1].id;
    triangles.push(next, id, over);
    // From the odd one, or from the last of an odd number, on to the next above.
    if (i % 2 === 1 || i === below.length - 1)
      triangles.push(next, over, row[((i >> 1) + 1) % row.length].id);
  });
  return row;
}

/** A border's loops in the order of its edges. */
function loopsOf(border: Uint32Array): RowVertex[][] {
  const next = new Map<number, number>();
  for (let i = 0; i < border.length; i += 2) next.set(border[i], border[i + 1]);
  const loops: RowVertex[][] = [];
  for (let i = 0; i < border.length; i += 2) {
    const loop: RowVertex[] = [];
    for (let v: number | undefined = border[i]; v !== undefined && next.has(v); ) {
      loop.push({ id: v, from: loop.length });
      const on = next.get(v);
      next.delete(v);
      v = on;
    }
    if (loop.length > 0) loops.push(loop);
  }
  return loops;
}
