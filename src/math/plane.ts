import { add, cross, dot, normalize, scale, type Vec2, type Vec3 } from './vec3.ts';

/** A plane n·x = offset: unit normal, offset in mm. **Front** is the side the normal points to. */
export interface Plane {
  normal: Vec3;
  offset: number;
}

/**
 * A right-handed 2D frame in a plane: `u × v = n`. A point (x, y) of the frame is
 * `origin + x u + y v`, so a counter-clockwise polygon in the frame is
 * counter-clockwise seen from the front.
 */
export interface PlaneFrame {
  origin: Vec3;
  u: Vec3;
  v: Vec3;
  n: Vec3;
}

/** Unit normal made from any non-zero one; the offset is kept as the distance in mm along it. */
export const plane = (normal: Vec3, offset: number): Plane => ({ normal: normalize(normal), offset });

/** Signed distance of `p` from the plane, mm; positive in front. */
export const planeDistance = (pl: Plane, p: Vec3): number => dot(pl.normal, p) - pl.offset;

/** The same plane seen in coordinates moved so that `origin` becomes zero. */
export const movePlane = (pl: Plane, origin: Vec3): Plane => ({
  normal: pl.normal,
  offset: pl.offset - dot(pl.normal, origin),
});

/**
 * The frame whose origin is the point of the plane nearest to `near`.
 * `u` is level (parallel to the bed) unless the plane itself is, in which case it is X:
 * a face drawn in this frame stands the way the figure stands.
 */
export function planeFrame(pl: Plane, near: Vec3 = [0, 0, 0]): PlaneFrame {
  const n = pl.normal;
  const level: Vec3 = Math.hypot(n[0], n[1]) > 1e-6 ? normalize([-n[1], n[0], 0]) : [1, 0, 0];
  const v = cross(n, level);
  const origin = add(near, scale(n, pl.offset - dot(n, near)));
  return { origin, u: level, v, n };
}

/** Frame coordinates (mm) of the projection of `p` onto the plane. */
export function toFrame(frame: PlaneFrame, p: Vec3): Vec2 {
  const d: Vec3 = [p[0] - frame.origin[0], p[1] - frame.origin[1], p[2] - frame.origin[2]];
  return [dot(d, frame.u), dot(d, frame.v)];
}

/** The point at frame coordinates `q` and height `h` (mm along the normal). */
export const fromFrame = (frame: PlaneFrame, q: Vec2, h = 0): Vec3 => [
  frame.origin[0] + q[0] * frame.u[0] + q[1] * frame.v[0] + h * frame.n[0],
  frame.origin[1] + q[0] * frame.u[1] + q[1] * frame.v[1] + h * frame.n[1],
  frame.origin[2] + q[0] * frame.u[2] + q[1] * frame.v[2] + h * frame.n[2],
];
