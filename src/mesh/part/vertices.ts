/**
 * Vertices in two arrays, numbered through: those a sculpt or cut brought, and those joints added.
 * An edit of a joint shares the first, which may be large, and makes only the second.
 */
export interface Vertices {
  /** x, y, z per vertex, mm, recentred coordinates. */
  positions: Float32Array;
  /** x, y, z of the vertices numbered on from there. */
  added: Float32Array;
}

export const NOTHING_ADDED: Float32Array = new Float32Array(0);

export const vertexCount = ({ positions, added }: Vertices): number => (positions.length + added.length) / 3;

/** A vertex's x, y or z (`axis` 0, 1 or 2), mm. */
export function coordinate({ positions, added }: Vertices, v: number, axis: number): number {
  const i = v * 3 + axis;
  return i < positions.length ? positions[i] : added[i - positions.length];
}

/** The same vertices and more, numbered on. */
export function withVertices({ positions, added }: Vertices, more: Float32Array): Vertices {
  if (added.length === 0) return { positions, added: more };
  const joined = new Float32Array(added.length + more.length);
  joined.set(added);
  joined.set(more, added.length);
  return { positions, added: joined };
}

/** All of them in one array; the first itself where nothing was added. */
export function allPositions({ positions, added }: Vertices): Float32Array {
  if (added.length === 0) return positions;
  const all = new Float32Array(positions.length + added.length);
  all.set(positions);
  all.set(added, positions.length);
  return all;
}
