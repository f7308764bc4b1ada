import type { Loop } from '../math/polygon.ts';
import type { Kernel } from './load.ts';
import { type Handle, type Own, scoped } from './scope.ts';

/** A list in the kernel's memory. Lists put into it are copied. */
interface KernelList<T> extends Handle {
  push_back(item: T): void;
}

/** The triangles' list: read by number, each entry a record of three indices that is no array. */
interface KernelTriples extends Handle {
  size(): number;
  get(i: number): { readonly 0: number; readonly 1: number; readonly 2: number };
}

type Points = KernelList<{ x: number; y: number }>;

/**
 * The kernel's own entry under its `triangulate`, which gives back neither its points nor its answer:
 * some 12 kB a call for 400 points, measured.
 */
interface RawTriangulator {
  Vector_vec2: new () => Points;
  Vector2_vec2: new () => KernelList<Points>;
  _Triangulate(loops: KernelList<Points>, epsilon: number, allowConvex: boolean): KernelTriples;
}

/**
 * Triangles of a region bounded by loops (counter-clockwise outside, clockwise holes).
 * Indices count the loops' points one after the other; every point is used and every
 * loop edge is an edge of exactly one triangle. Triangles are counter-clockwise.
 * `epsilon` is how far (mm) loops may overlap themselves and still count as valid.
 * No loops, no triangles.
 */
export function triangulate(kernel: Kernel, loops: readonly Loop[], epsilon: number): Uint32Array {
  if (loops.length === 0) return new Uint32Array(0);
  const raw = kernel as Kernel & RawTriangulator;
  return scoped((own) => {
    const outline = own(new raw.Vector2_vec2());
    for (const loop of loops) outline.push_back(pointsOf(raw, own, loop));
    const found = own(raw._Triangulate(outline, epsilon, false));
    const triangles = new Uint32Array(found.size() * 3);
    for (let i = 0; i < triangles.length; i += 3) {
      const corners = found.get(i / 3);
      triangles[i] = corners[0];
      triangles[i + 1] = corners[1];
      triangles[i + 2] = corners[2];
    }
    return triangles;
  });
}

function pointsOf(raw: RawTriangulator, own: Own, loop: Loop): Points {
  const points = own(new raw.Vector_vec2());
  for (let i = 0; i < loop.length; i += 2) points.push_back({ x: loop[i], y: loop[i + 1] });
  return points;
}
