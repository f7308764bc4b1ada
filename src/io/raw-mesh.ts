import { PegwrightError } from '../errors.ts';
import { LIMITS } from '../model/limits.ts';
import type { Unit } from '../model/units.ts';
import type { Feed } from './bytes/feed.ts';

/** A body that the file tells apart from others: a run of its triangles. */
export interface RawBody {
  /** '' where the file gives it none. */
  name: string;
  triangleCount: number;
}

/**
 * What a reader makes of a file: the file's own numbers, before unit, scale and recentring.
 * Double precision where the file has more than singles hold.
 */
export interface RawMesh {
  positions: Float32Array | Float64Array;
  triangles: Uint32Array;
  /** True where no two vertices are at one place and each is used, in the order of first use. */
  isWelded?: true;
  /** Runs of triangles in the file's order, together all of them; absent for one body without a name. */
  bodies?: readonly RawBody[];
  /** Unit that the file declares; absent where its format has none. */
  unit?: Unit;
}

/** Refuses more triangles than a sculpt may have. */
export function checkTriangleCount(feed: Feed, triangles: number): void {
  if (triangles > LIMITS.triangles) {
    throw new PegwrightError('file-too-big', { file: feed.file, triangles, limit: LIMITS.triangles });
  }
}

/** Every three vertices a triangle, as formats without indices have them. */
export function looseTriangles(positions: RawMesh['positions']): RawMesh {
  const triangles = new Uint32Array(positions.length / 3);
  for (let i = 0; i < triangles.length; i++) triangles[i] = i;
  return { positions, triangles };
}
