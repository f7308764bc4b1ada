/** Every number that tunes mending, in one place, each with its reason. Lengths are mm, or shares of a length. */
export const MEND_TUNING = {
  /**
   * Rims this share of the figure's diagonal apart are one rim, and are joined without asking: corners that each
   * strayed by 1e-5 of the diagonal along every axis lie at most 2√3e-5 apart.
   */
  rimShare: 4e-5,
  /** A rim is joined no farther than this share of its shortest edge, so that no edge can close up. */
  rimEdgeShare: 0.5,
  /** Angles round an edge nearer than this (radians) are one: faces that lie on each other. */
  sameAngle: 1e-9,
  /** An outline larger than this share of its shell may bound a sheet: it is no hole to be filled unasked. */
  holeInShell: 0.5,
  /** Corners up to which an outline is divided by dynamic programming, whose time grows with their cube: some 30 ms. */
  outlineCorners: 128,
  /** Pairs of corners looked at, about, for the chord that divides a longer outline. */
  chordTrials: 40_000,
  /** Most points put inside one smooth patch; a larger hole gets wider triangles. */
  patchPoints: 4_000,
  /** Points inside a patch per square of its corners: a disc of equal triangles has about 1/11. */
  pointsPerCorner: 1 / 4,
  /** Triangles are split while their middle is this factor times farther from the corners than edges there are long. */
  densify: Math.SQRT2,
  /** Edges at a rim point count as no shorter than this share of the rim's mean: one tiny triangle is not to crowd a patch. */
  leastScale: 0.2,
  /** Steps of the smoothing solver, and the share of the first residual at which it is done. */
  fairSteps: 2_000,
  fairResidual: 1e-7,
  /** Places told of each kind of defect. */
  places: 300,
  /** Time the search for self-intersections may take, ms. */
  crossingsMs: 20_000,
  /** Pairs of a fill's triangles and others looked at for crossings: a second or two. */
  crossingLooks: 2_000_000,
  /** Pairs of boxes and triangles looked at on opening for shells that overlap: some 50 ms. */
  overlapLooks: 2_000_000,
  /** Winding numbers asked for then. */
  overlapProbes: 1_000,
  /** Triangles kept of each pair of shells that touch, to be asked about. */
  probesOfPair: 16,
  /** A shell whose box has a diagonal below this share of the figure's is a speck. */
  speckShare: 0.005,
} as const;
