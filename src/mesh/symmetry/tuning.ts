/** What finding the plane of a figure's symmetry goes by. Lengths are shares of the diagonal of its box, unless said otherwise. */
export const SYMMETRY = {
  /** A place of the skin has a mirror image where that lies no farther from the skin than this, */
  near: 2e-3,
  /** and no farther than this, mm: a peg set there would be seen to stand elsewhere. */
  nearMm: 0.5,
  /**
   * The figure is symmetric where at least this share of its skin has a mirror image: the body, whatever it holds and
   * however its arms are. Lumps that are symmetric in no way come to a quarter or a half.
   */
  leastShare: 0.6,
  /** Directions in which planes are tried beside the principal axes: one within some 11° of every direction. */
  directions: 64,
  /**
   * Points of the skin by which a plane is tried, fitted at first, fitted in the end, and measured; and those that stand
   * for the skin until the end.
   */
  samples: { tried: 96, roughly: 192, finely: 512, measured: 2048, stoodFor: 2048 },
  /** Distances count no more than this while planes are tried; */
  triedReach: 0.1,
  /** once they are fitted, no more than so many times `near`: what has no counterpart does not speak against a plane. */
  fittedReach: 3,
  /** How many of those tried are fitted, at first and in the end. */
  fitted: { roughly: 8, finely: 2 },
  /** Steps of a fit, at first and in the end. */
  steps: { roughly: 6, finely: 6 },
  /** A fit that moves nothing of the figure farther than this is at its end. */
  settled: 1e-9,
  /** What lies farther from its image than this hardly pulls at the plane, when a fit begins; in the end it is `near`. */
  pull: 0.06,
  /** Normals that differ by less than this (radians) are the same plane's. */
  sameTurn: 0.02,
  /** Planes whose shares differ by no more than this are as good as each other: the most upright one is the figure's. */
  tie: 0.01,
} as const;
