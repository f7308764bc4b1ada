/** Every tolerance of the engine, in mm unless said otherwise, each with its reason. */
export const TOLERANCES = {
  /**
   * A vertex nearer to a seam plane than this many float32 steps of the figure's
   * size lies on it. Two steps keep a cut vertex, whose rounding moves it by at most
   * √3/2 of a step, from landing on the corner it was cut beside.
   */
  snapUlps: 2,
  /** Sine of the angle below which a corner of a file's polygon counts as straight. */
  straightCorner: 1e-9,
  /** Outlines may overlap themselves by this much: the rounding of cut vertices, not a crossing. */
  outlineSlop: 1e-4,
  /** A joint that comes nearer than this to anything but its own face is left to the kernel's boolean: more than `noWall`. */
  localMargin: 0.02,
  /**
   * Material no thicker than this counts as none: no process lays down less (common practice: a layer is 0.02 mm and
   * up), and rounding to the file's single precision may open it. Two bodies no farther apart count as touching.
   */
  noWall: 0.01,
  /** Triangles whose corners are no farther from one plane than this are one flat face: three decimals of a file, turned. */
  flat: 0.001,
  /**
   * Two flat faces that look at each other touch where they are nowhere farther apart, and overlap nowhere more, than
   * this: the layer of a fine print (common practice: 0.05 mm), and a lean of 0.05° over 30 mm.
   */
  contact: 0.08,
  /** Sine of the angle between two faces that touch. */
  contactTilt: 0.0035,
  /** Area of a shared face below which it is none, mm², and its width (twice the area over the perimeter), mm: no joint has room. */
  contactArea: 4,
  contactWidth: 1,
  /** Greatest distance between a joint's rounded surface and its facets. */
  jointChord: 0.0015,
  /** Narrowest tip a peg core may shrink to, half width. */
  coreTipHalf: 0.05,
  /** A measured gap may differ from the one asked by this much before it is a finding. */
  gap: 0.01,
  /** Residual volume, relative to the sculpt's, before it is a finding. */
  residual: 1e-6,
  /**
   * Rounding in the file may move a coordinate by this much. A peg's and a socket's surface then move by √3 times it
   * at most, so that the gap in the files is within 0.0018 of the one measured.
   */
  written: 0.0005,
  /** Rounding in the file may change a part's volume by this share: half of what counts as the same volume. */
  writtenVolume: 5e-7,
  /** A turn in which a part is less too much for the bed by no more than this need not be found: a layer of a fine print. */
  bedTurn: 0.1,
  /** A cutter reaches this far out of the face where the kernel joins. */
  root: 1,
  /** A peg's root there: deep enough that no two faces coincide, and not so deep that it comes out of a skin that leans inward. */
  pegRoot: 0.02,
} as const;

/** Distance between neighbouring float32 numbers of the size of `x`. */
export function float32Step(x: number): number {
  const magnitude = Math.abs(x);
  return magnitude < 2 ** -126 ? 2 ** -149 : 2 ** (Math.floor(Math.log2(magnitude)) - 23);
}
