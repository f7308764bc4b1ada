import type { Manifold } from 'manifold-3d';
import type { Kernel } from '../../src/kernel/load.ts';
import { type Own, scoped } from '../../src/kernel/scope.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { solidOf } from './symmetric-difference.ts';

/** What a cut by a swept line should come to, by the kernel and by looking at every triangle. Shares nothing with the engine's cut. */

type Point = readonly [number, number, number];
type Flat = readonly [number, number];

const dot = (a: Point, b: Point) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Two directions that make a right-handed frame with the sweep, in that order. */
function frameOf(along: Point): [Point, Point, Point] {
  const l = Math.hypot(...along);
  const w: Point = [along[0] / l, along[1] / l, along[2] / l];
  const other: Point = Math.abs(w[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0];
  const c = dot(other, w);
  const raw: Point = [other[0] - c * w[0], other[1] - c * w[1], other[2] - c * w[2]];
  const m = Math.hypot(...raw);
  const u: Point = [raw[0] / m, raw[1] / m, raw[2] / m];
  return [u, [w[1] * u[2] - w[2] * u[1], w[2] * u[0] - w[0] * u[2], w[0] * u[1] - w[1] * u[0]], w];
}

/** A line of straight runs in a plane across its sweep, its ends drawn out by `reach` (mm). */
export function flatLine(line: readonly Point[], along: Point, reach: number): Flat[] {
  const [u, v] = frameOf(along);
  const flat = line.map((p): Flat => [dot(u, p), dot(v, p)]);
  const out = ([x, y]: Flat, [fx, fy]: Flat): Flat => {
    const l = Math.hypot(x - fx, y - fy);
    return [x + ((x - fx) / l) * reach, y + ((y - fy) / l) * reach];
  };
  return [out(flat[0], flat[1]), ...flat.slice(1, -1), out(flat[flat.length - 1], flat[flat.length - 2])];
}

/** Volumes left and right of the line, by the kernel's boolean with a body extruded from it. */
export function kernelVolumes(
  kernel: Kernel,
  mesh: Mesh,
  line: readonly Point[],
  along: Point,
  reach: number,
): { left: number; right: number } {
  return scoped((own) => {
    const solid = solidOf(kernel, own, mesh);
    const [left, right] = solid.split(leftBody(kernel, own, line, along, reach));
    own(left);
    own(right);
    return { left: left.volume(), right: right.volume() };
  });
}

/** All that lies left of the line, within reach; the caller deletes it. */
export const leftBodyOf = (kernel: Kernel, line: readonly Point[], along: Point, reach: number): Manifold =>
  scoped((own) => leftBody(kernel, own, line, along, reach).asOriginal());

function leftBody(kernel: Kernel, own: Own, line: readonly Point[], along: Point, reach: number): Manifold {
  const [u, v, w] = frameOf(along);
  const chain = flatLine(line, along, reach);
  const [begin, end] = [chain[0], chain[chain.length - 1]];
  const radius = 3 * reach;
  const from = Math.atan2(end[1], end[0]);
  let turn = Math.atan2(begin[1], begin[0]) - from;
  if (turn <= 0) turn += 2 * Math.PI;
  const round = Array.from({ length: 17 }, (_, i): [number, number] => [
    radius * Math.cos(from + (turn * i) / 16),
    radius * Math.sin(from + (turn * i) / 16),
  ]);
  const section = own(
    new kernel.CrossSection([[...chain.map(([x, y]): [number, number] => [x, y]), ...round]], 'Positive'),
  );
  const body = own(section.extrude(2 * reach, 0, 0, [1, 1], true));
  // Column by column: where the body's own axes go.
  return own(body.transform([...u, 0, ...v, 0, ...w, 0, 0, 0, 0, 1]));
}

/** Shared volume, mm³, of two meshes with the first moved. */
export function sharedVolume(kernel: Kernel, moving: Mesh, other: Mesh, by: Point): number {
  return scoped((own) => {
    const moved = own(solidOf(kernel, own, moving).translate([...by]));
    return own(moved.intersect(solidOf(kernel, own, other))).volume();
  });
}

/** True for each triangle of a mesh that comes nowhere within `apart` (mm) of the line, seen along its sweep. */
export function clearOf(
  mesh: Mesh,
  line: readonly Point[],
  along: Point,
  reach: number,
  apart: number,
): boolean[] {
  const [u, v] = frameOf(along);
  const chain = flatLine(line, along, reach);
  return Array.from({ length: mesh.triangles.length / 3 }, (_, t) => {
    const corners = [0, 1, 2].map((k): Flat => {
      const i = mesh.triangles[t * 3 + k] * 3;
      const p: Point = [mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]];
      return [dot(u, p), dot(v, p)];
    });
    const middle: Flat = [0, 1].map((k) => corners.reduce((s, c) => s + c[k] / 3, 0)) as unknown as Flat;
    const radius = Math.max(...corners.map((c) => Math.hypot(c[0] - middle[0], c[1] - middle[1])));
    return chain.slice(1).every((b, i) => distanceTo(chain[i], b, middle) > radius + apart);
  });
}

function distanceTo([ax, ay]: Flat, [bx, by]: Flat, [x, y]: Flat): number {
  const [dx, dy] = [bx - ax, by - ay];
  const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}

/** How often each triangle of a mesh is in a part, corners and their order the same to the bit. */
export function foundIn(mesh: Mesh, part: Mesh): number[] {
  const name = ({ positions, triangles }: Mesh, t: number) => {
    const corners = [0, 1, 2].map((k) => {
      const i = triangles[t * 3 + k] * 3;
      return `${positions[i]} ${positions[i + 1]} ${positions[i + 2]}`;
    });
    const first = corners.indexOf([...corners].sort()[0]);
    return [corners[first], corners[(first + 1) % 3], corners[(first + 2) % 3]].join(' ');
  };
  const counts = new Map<string, number>();
  for (let t = 0; t < part.triangles.length / 3; t++) {
    const key = name(part, t);
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return Array.from({ length: mesh.triangles.length / 3 }, (_, t) => counts.get(name(mesh, t)) ?? 0);
}
