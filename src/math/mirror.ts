import type { Plane, PlaneFrame } from './plane.ts';
import { add, dot, scale, type Vec3 } from './vec3.ts';

/** The mirror image of a direction: what lies along the plane's normal is turned round. */
export function mirroredVec({ normal }: Plane, v: Vec3): Vec3 {
  const twice = 2 * dot(normal, v);
  return [v[0] - twice * normal[0], v[1] - twice * normal[1], v[2] - twice * normal[2]];
}

/** The mirror image of a place, mm. */
export function mirroredPlace({ normal, offset }: Plane, p: Vec3): Vec3 {
  const twice = 2 * (dot(normal, p) - offset);
  return [p[0] - twice * normal[0], p[1] - twice * normal[1], p[2] - twice * normal[2]];
}

/** The mirror image of a plane: what was in front of it has its image in front of that. */
export function mirroredPlane(mirror: Plane, { normal, offset }: Plane): Plane {
  return {
    normal: mirroredVec(mirror, normal),
    offset: offset - 2 * mirror.offset * dot(mirror.normal, normal),
  };
}

/**
 * The angle (degrees, −180 to 180) in a mirrored plane's frame of the mirror image of a direction that has `deg` in the
 * plane's own. Both frames are right-handed, so that the image turns the other way.
 */
export function mirroredAngle(mirror: Plane, from: PlaneFrame, to: PlaneFrame, deg: number): number {
  const angle = (deg * Math.PI) / 180;
  const along = add(scale(from.u, Math.cos(angle)), scale(from.v, Math.sin(angle)));
  const image = mirroredVec(mirror, along);
  return (Math.atan2(dot(image, to.v), dot(image, to.u)) * 180) / Math.PI;
}
