/** What the re-skin is tuned by. Lengths are shares of a cell unless said otherwise. */
export const RE_SKIN = {
  /** A winding number at or above this is inside: half way between 0 outside a sound skin and 1 inside it. */
  inside: 0.5,
  /** Grid nodes keep this odd share off the figure's own box, on whose planes figures like to lie. */
  offset: 0.37,
  /** A vertex keeps this far from the corners and sides of its cell, so that no triangle folds to nothing in single precision. */
  margin: 0.02,
  /** Weight of staying near the crossings' middle against lying on their planes; it holds what the planes leave free. */
  stay: 0.05,
  /** Rounds of that, each from where the last one ended: an edge or corner is then met to a thousandth. */
  rounds: 4,
  /** A vertex moved farther than this onto the old skin must have inside and outside on its two sides. */
  trusted: 0.1,
  /** How far to its two sides is looked: less than a spike is thick near its point, and far more than a double's step. */
  aside: 1e-5,
  /** A cell's width in float32 steps at the figure's farthest coordinate, at the least: margins stay several steps wide. */
  leastSteps: 256,
  /** Cut cells per square cell of area: the mean of |nx| + |ny| + |nz| over all directions. */
  cellsPerArea: 1.5,
  /** Triangles per cut cell: there are as many cut edges as cells, and four triangles about each. */
  trianglesPerCell: 4,
  /** Seconds a cell took, measuring the deviation included, on the two-core machine it was tuned on. */
  secondsPerCell: 4.5e-5,
  /** Cells along the longest side that a suggestion keeps between. */
  suggested: [128, 256],
} as const;
