/** Every limit a person can run into, in one place. Lengths in mm, angles in degrees. */
export const LIMITS = {
  /** Triangles one sculpt may have; 2 GiB of typed arrays is what a browser grants. */
  triangles: 16_000_000,
  /** Seams in one job, and pegs on one seam. */
  seams: 64,
  pegsPerSeam: 32,
  /** Smallest and largest width or height of a peg at the face. */
  pegWidthMm: [0.6, 200],
  pegLengthMm: [0.4, 400],
  /** Draft per side. 0 is a straight key. */
  draftDeg: [0, 30],
  edgeRadiusMm: [0, 50],
  sideGapMm: [0, 5],
  endGapMm: [0, 20],
  minWallMm: [0, 50],
  scale: [1e-6, 1e6],
  /** Farthest a coordinate may lie from the file's own origin after its unit is applied. */
  coordinateMm: 1e7,
  /** A hole is filled without asking where its outline's box has a diagonal below this share of the figure's. */
  smallHoleShare: 0.1,
  /** Mending steps in one job, and how far each may reach. */
  mends: 32,
  mendWeldMm: [1e-6, 10],
  mendSpeckMm: [1e-6, 1e4],
} as const;
