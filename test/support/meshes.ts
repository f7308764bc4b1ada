import type { Mesh } from '../../src/mesh/mesh.ts';

/** Meshes of known bodies, and measures of meshes taken apart from the engine. Counter-clockwise from outside, mm. */

/** A mesh in either precision; joint surfaces are in double. */
export interface AnyMesh {
  positions: ArrayLike<number>;
  triangles: Uint32Array;
}

type Point = [number, number, number];

const pointOf = ({ positions: p }: AnyMesh, v: number): Point => [p[v * 3], p[v * 3 + 1], p[v * 3 + 2]];

const normalOf = (a: Point, b: Point, c: Point): Point => {
  const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
};

const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Volume, area and first moments (volume × centroid), by signed tetrahedra about the origin (Mirtich 1996). */
export function sums(mesh: AnyMesh): { volume: number; area: number; moment: Point } {
  let volume = 0;
  let area = 0;
  const moment: Point = [0, 0, 0];
  for (let i = 0; i < mesh.triangles.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => pointOf(mesh, mesh.triangles[i + k]));
    const n = normalOf(a, b, c);
    const tetra = dot(a, n) / 6;
    volume += tetra;
    area += Math.hypot(...n) / 2;
    for (let k = 0; k < 3; k++) moment[k] += (tetra * (a[k] + b[k] + c[k])) / 4;
  }
  return { volume, area, moment };
}

/** Vertices − edges + triangles, over the vertices that triangles use. */
export function eulerCharacteristic({ triangles: t }: AnyMesh): number {
  const vertices = new Set(t);
  const edges = new Set<string>();
  for (let i = 0; i < t.length; i++) {
    const next = t[i % 3 === 2 ? i - 2 : i + 1];
    edges.add(`${Math.min(t[i], next)} ${Math.max(t[i], next)}`);
  }
  return vertices.size - edges.size + t.length / 3;
}

/**
 * Integral mean curvature of a convex polytope: Σ edge length × exterior angle / 2 (Schneider,
 * *Convex Bodies*, §4.2). Edges of one triangle only, an open rim, add nothing.
 */
export function meanCurvature(mesh: AnyMesh): number {
  const { triangles: t } = mesh;
  const normals = new Map<string, Point>();
  let total = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => pointOf(mesh, t[i + k]));
    const n = normalOf(a, b, c);
    for (let k = 0; k < 3; k++) {
      const [from, to] = [t[i + k], t[i + ((k + 1) % 3)]];
      normals.set(`${from} ${to}`, n);
      const other = normals.get(`${to} ${from}`);
      if (!other) continue;
      const [p, q] = [pointOf(mesh, from), pointOf(mesh, to)];
      const sine = Math.hypot(...normalOf([0, 0, 0], n, other));
      total += (Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]) * Math.atan2(sine, dot(n, other))) / 2;
    }
  }
  return total;
}

/** The surface with a fan over its rim, which is its first `rimCount` vertices, counter-clockwise from above. */
export function withFloor<M extends AnyMesh & { rimCount: number }>(surface: M): AnyMesh {
  const floor = Array.from({ length: surface.rimCount - 2 }, (_, k) => [0, k + 2, k + 1]).flat();
  return { positions: surface.positions, triangles: Uint32Array.from([...surface.triangles, ...floor]) };
}

/** Corners of a regular n-gon whose sides touch the circle of radius `apothem`, counter-clockwise. */
export const ngonAround = (n: number, apothem: number): [number, number][] =>
  Array.from({ length: n }, (_, k) => {
    const [r, a] = [apothem / Math.cos(Math.PI / n), (2 * Math.PI * k) / n];
    return [r * Math.cos(a), r * Math.sin(a)];
  });

/**
 * A right prism on an n-gon inscribed in a circle, its axis along x, y or z and centred on zero. `turn` (in steps)
 * puts the first corner that part of a step off the next axis.
 */
export function prism(n: number, radius: number, length: number, axis: 0 | 1 | 2 = 2, turn = 0): Mesh {
  const positions = new Float32Array(n * 6);
  const triangles: number[] = [];
  for (let k = 0; k < n; k++) {
    const a = (2 * Math.PI * (k + turn)) / n;
    for (const [end, row] of [
      [-length / 2, 0],
      [length / 2, n],
    ]) {
      positions[(row + k) * 3 + ((axis + 1) % 3)] = radius * Math.cos(a);
      positions[(row + k) * 3 + ((axis + 2) % 3)] = radius * Math.sin(a);
      positions[(row + k) * 3 + axis] = end;
    }
    const j = (k + 1) % n;
    triangles.push(k, j, n + j, k, n + j, n + k);
    if (k >= 2) triangles.push(0, k, k - 1, n, n + k - 1, n + k);
  }
  return { positions, triangles: Uint32Array.from(triangles) };
}

/** The mesh with every coordinate times `factor`, rounded to single precision. */
export const scaled = ({ positions, triangles }: Mesh, factor: number): Mesh => ({
  positions: positions.map((v) => v * factor),
  triangles,
});

/** Least distance from the origin to the plane of any triangle: a ball about the origin that fits into a convex mesh. */
export function inscribedRadius(mesh: AnyMesh): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < mesh.triangles.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => pointOf(mesh, mesh.triangles[i + k]));
    const n = normalOf(a, b, c);
    least = Math.min(least, dot(a, n) / Math.hypot(...n));
  }
  return least;
}
