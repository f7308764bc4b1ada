import type { Vec3 } from '../math/vec3.ts';

/** A peg with every size settled: what the person gave, the rest from the face and the process. */
export interface ResolvedPeg {
  kind: 'taper';
  /** On the seam plane, mm in the file's coordinates. */
  at: Vec3;
  /** Full width and height at the face, mm. */
  widthMm: number;
  heightMm: number;
  /** From the face to the flat of the tip, mm. */
  lengthMm: number;
  /** Taper per side. */
  draftDeg: number;
  edgeRadiusMm: number;
  spinDeg: number;
  /** Normal distances between peg and socket, per side. */
  sideGapMm: number;
  endGapMm: number;
}
