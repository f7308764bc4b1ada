/** Every number the drawings are tuned by. Pixels are CSS pixels. */
export const TUNING = {
  /** CSS pixels in a millimetre of paper: 96 to the inch. Scales such as 10:1 are counted from it. */
  paperPxPerMm: 96 / 25.4,
  /** Clear paper between a fitted drawing and its panel. */
  fitPaddingPx: 26,
  /** Foot of a drawing kept for its scale bar. */
  scaleRowPx: 12,
  /** Scale limits of the zoom, px/mm. */
  zoomPxPerMm: [0.5, 2000],
  /** Zoom factor per wheel pixel (a notch is about 100) and per key press. */
  wheelZoom: 0.0015,
  keyZoom: 1.25,
  keyPanPx: 24,
  /** A press that moves less is a click. */
  clickPx: 4,
  /** Filled arrowhead: length, and full angle (ISO 129-1 draws it slim). */
  arrowPx: 8,
  arrowDeg: 18,
  /** Extension lines: gap at the feature, overrun past the dimension line. */
  extensionGapPx: 3,
  extensionOverrunPx: 4,
  /** Distance of a dimension's text from its line. */
  textLiftPx: 3,
  /** Width of one numeral in the drawing's monospaced type, as a part of its size. */
  numeralAspect: 0.6,
  numeralPx: 11,
  /** Mean width of a letter of the drawing's words. */
  letterPx: 6.2,
  /** Section hatching: pitch of the parts, of the gap, and of what lies loose in a joint. */
  hatchPx: 7,
  gapHatchPx: 3,
  looseHatchPx: 4,
  /** Handles stay at least this far from the peg's middle, however small the peg is drawn. */
  handleReachPx: 22,
  handlePx: 8,
  handleHitPx: 24,
  /** Corners of an outline that are gripped one by one, at the most. */
  mostCornerGrips: 60,
  /** A click so near to an outline's first corner closes it. */
  closePx: 9,
  spinStemPx: 20,
  /** Steps of a drag: position, size, spin; and with Shift held. */
  moveStepMm: 0.01,
  cornerStepMm: 0.05,
  sizeStepMm: 0.1,
  sizeStepCoarseMm: 0.5,
  spinStepDeg: 1,
  spinStepCoarseDeg: 15,
  /** Steps of the keys, plain and with Shift. */
  keyMoveMm: [0.1, 1],
  keySizeMm: 0.1,
  keySpinDeg: [1, 15],
  keyCursorMm: [1, 5],
  /** Two values closer than this are the same size or place, mm or degrees. */
  sameWithin: 1e-4,
  /** Segments in each rounded corner of an outline drawn before the engine answers. */
  cornerSteps: 8,
} as const;
