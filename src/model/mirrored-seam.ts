import { mirroredAngle, mirroredPlace, mirroredPlane, mirroredVec } from '../math/mirror.ts';
import { type Plane, type PlaneFrame, planeFrame, toFrame } from '../math/plane.ts';
import { add, normalize, scale, type Vec3 } from '../math/vec3.ts';
import type { AskedJoint } from './joint.ts';
import type { PlaneSpec, SeamSpec, SheetSpec } from './seam-schema.ts';
import { planeOf, type SeamPlane } from './seam-spec.ts';
import { lineChain, nearestPiece } from './sheet-line.ts';

/** A seam as a mirror shows it. */
export interface MirroredSeam {
  by: SeamSpec;
  /** How the mirror image of a joint that is spun so far (degrees) at a place of this seam is spun on the mirrored one. */
  spin(spinDeg: number, at: AskedJoint['at']): number;
}

/**
 * The seam in a mirror: what is in front of it has its image in front of the one that comes back. Null for a seam between
 * bodies: their images would be other bodies.
 */
export function mirroredSeam(by: SeamSpec, across: SeamPlane): MirroredSeam | null {
  const mirror = planeOf(across);
  if (by.kind === 'plane') return mirroredPlaneSeam(by, mirror);
  return by.kind === 'contact' ? null : mirroredSheet(by, mirror);
}

function mirroredPlaneSeam(by: PlaneSpec, mirror: Plane): MirroredSeam {
  const from = planeOf(by);
  const to = mirroredPlane(mirror, from);
  const through = by.through?.map((p) => mirroredPlace(mirror, p));
  return {
    by: { ...by, normal: to.normal, offsetMm: to.offset, ...(through && { through }) },
    spin: (spinDeg) => mirroredAngle(mirror, planeFrame(from), planeFrame(to), spinDeg),
  };
}

/** What was left of the line is right of its image: that is walked the other way. */
function mirroredSheet(by: SheetSpec, mirror: Plane): MirroredSeam {
  const image = (p: Vec3) => mirroredPlace(mirror, p);
  const flats = by.flats?.map(({ at, widthMm }) => ({ at: image(at), widthMm }));
  const through = by.through?.map(image);
  return {
    by: {
      ...by,
      line: by.line.map(image).reverse(),
      along: mirroredVec(mirror, by.along),
      ...(flats && { flats }),
      ...(through && { through }),
    },
    spin(spinDeg, at) {
      const from = faceAt(by, at);
      const to = planeFrame({ normal: mirroredVec(mirror, from.n), offset: 0 });
      return mirroredAngle(mirror, from, to, spinDeg);
    },
  };
}

/** The directions of the face of a sheet that a place is nearest to; of its first run for a joint without a place. */
function faceAt(by: SheetSpec, at: AskedJoint['at']): PlaneFrame {
  const along = normalize(by.along);
  const across = planeFrame({ normal: along, offset: 0 });
  const points = lineChain(by, (p) => toFrame(across, p))?.points ?? by.line.map((p) => toFrame(across, p));
  const piece = at === 'auto' ? 0 : nearestPiece(points, toFrame(across, at));
  const [dx, dy] = [0, 1].map((k) => points[piece + 1][k] - points[piece][k]);
  return planeFrame({ normal: normalize(add(scale(across.u, -dy), scale(across.v, dx))), offset: 0 });
}
