/** Every limit a person can run into, in one place. Lengths in mm, angles in degrees. */
export const LIMITS = {
  /** Triangles one sculpt may have; 2 GiB of typed arrays is what a browser grants. */
  triangles: 16_000_000,
  /** Triangles one instance of the solid kernel is trusted with: its 4 GB end by a trap at about 5.5 million. */
  kernelTriangles: 5_000_000,
  /** What a packed file may unpack to, bytes. */
  unpackedBytes: 1e9,
  /** Files beside the first that make up one sculpt. */
  sculptFiles: 256,
  /** Files in one archive. */
  archiveFiles: 10_000,
  /** How deep components, nodes or elements may hang below each other. */
  nesting: 256,
  /** Bodies one sculpt may have, every copy of a shared one counted. */
  bodies: 100_000,
  /** Seams in one job, and pegs on one seam. */
  seams: 64,
  pegsPerSeam: 32,
  /** Points of a seam's line. */
  linePoints: 200,
  /** How wide a smooth line may be made straight at a place. */
  flatMm: [0.5, 500],
  /** Smallest and largest width or height of a peg at the face. */
  pegWidthMm: [0.6, 200],
  /** How far from a peg's axis a flat on it may stand. */
  flatOffMm: [0, 100],
  /** Corners of a peg's own outline, and how far from its axis one may be. */
  outlineCorners: [3, 500],
  outlineReachMm: 200,
  pegLengthMm: [0.4, 400],
  /** Thickness of a disc magnet, and of what lies between it and the face. */
  magnetMm: [0.3, 50],
  coverMm: [0, 20],
  /** Draft per side. 0 is a straight peg. */
  draftDeg: [0, 30],
  edgeRadiusMm: [0, 50],
  sideGapMm: [0, 5],
  endGapMm: [0, 20],
  minWallMm: [0, 50],
  /** Gap between bodies of which one is trimmed by the other, and how far in from the outer edge it may close. */
  nestGapMm: [0, 5],
  rimMm: [0, 50],
  scale: [1e-6, 1e6],
  /** Farthest a coordinate may lie from the file's own origin after its unit is applied. */
  coordinateMm: 1e7,
  /** Grid cells a new skin may be cut from, and cells along its longest side: some 6 million triangles, in about 1 GB. */
  reSkinCells: 1_500_000,
  reSkinCellsAlong: 2048,
  reSkinCellMm: [1e-6, 1e4],
  /**
   * A hole is filled without asking where its outline's box has a diagonal below this share of the figure's;
   * one of few corners, where a few triangles were lost, also below a larger share.
   */
  smallHoleShare: 0.03,
  fewCorners: 8,
  fewCornersShare: 0.1,
  /** Mending steps in one job, and how far each may reach. */
  mends: 32,
  mendWeldMm: [1e-6, 10],
  mendSpeckMm: [1e-6, 1e4],
} as const;
