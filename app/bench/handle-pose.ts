import {
  type FaceResult,
  fromFrame,
  planeFrame,
  type SculptSummary,
  type SeamPlane,
  type Vec3,
} from '../../src/index.ts';

/** Size of a seam's handle and the place it stands around, taken from the seam's face. mm, file coordinates. */
export interface HandleShape {
  centre: Vec3;
  halfU: number;
  halfV: number;
}

/** The handle's shape where no face is known yet, as a share of the sculpt's size. */
const BLIND_SHARE = 0.25;

/** The box around a face's outlines, in the face's own frame. */
export function faceShape(face: FaceResult): HandleShape | null {
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const outline of face.outlines) {
    for (let i = 0; i < outline.length; i += 2) {
      left = Math.min(left, outline[i]!);
      right = Math.max(right, outline[i]!);
      low = Math.min(low, outline[i + 1]!);
      high = Math.max(high, outline[i + 1]!);
    }
  }
  if (left > right) return null;
  const centre = fromFrame(face.frame, [(left + right) / 2, (low + high) / 2]);
  return { centre, halfU: (right - left) / 2, halfV: (high - low) / 2 };
}

export function blindShape({ boundsMm: { min, max } }: SculptSummary): HandleShape {
  const half = Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]) * BLIND_SHARE;
  return {
    centre: [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2],
    halfU: half,
    halfV: half,
  };
}

/** A seam's handle as it stands on the seam's present plane. */
export interface Handle extends HandleShape {
  u: Vec3;
  v: Vec3;
  n: Vec3;
  /** Of the plane, as the job has it. */
  offsetMm: number;
  /** Where the arrow and the two knobs are; `lever` is how far the knobs are from the centre. */
  grips: { offset: Vec3; across: Vec3; along: Vec3 };
  levers: { offset: number; across: number; along: number };
}

/** Free room between the face and the grips. */
const MARGIN_SHARE = 0.42;

export function standHandle({ normal, offsetMm }: SeamPlane, shape: HandleShape): Handle {
  const norm = Math.hypot(...normal);
  const n: Vec3 = [normal[0] / norm, normal[1] / norm, normal[2] / norm];
  const frame = planeFrame({ normal: n, offset: offsetMm }, shape.centre);
  const margin = MARGIN_SHARE * Math.max(shape.halfU, shape.halfV);
  const halfU = shape.halfU + margin;
  const halfV = shape.halfV + margin;
  return {
    centre: frame.origin,
    halfU,
    halfV,
    u: frame.u,
    v: frame.v,
    n,
    offsetMm,
    grips: {
      offset: fromFrame(frame, [halfU, 0]),
      across: fromFrame(frame, [-halfU, 0]),
      along: fromFrame(frame, [0, halfV]),
    },
    levers: { offset: halfU, across: halfU, along: halfV },
  };
}
