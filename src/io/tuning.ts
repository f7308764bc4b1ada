/** Every number that tunes reading and writing, in one place. */
export const IO_TUNING = {
  /** Bytes looked at to tell what a file is. */
  headBytes: 65_536,
  /** Largest run of bytes handled between two reports of progress. */
  pieceBytes: 4 << 20,
  /** Longest line of a text file: more than a face of the most corners takes. */
  lineBytes: 4 << 20,
  /** Most corners one face may have; the worst shape of as many takes seconds to divide, ordinary ones do not. */
  faceCorners: 1 << 16,
  /** Longest tag or comment of an XML document. */
  tagBytes: 4 << 20,
  /** Attributes one XML tag may have. */
  attributes: 256,
  /** Most bytes that one of meshopt's can stand for: 2 bits for each byte of 16 elements, all channels equal. */
  meshoptRatio: 1024,
  /** Most elements of a sparse glTF accessor that has no bytes of its own: nothing else bounds them. */
  zeroElements: 1 << 20,
  /** First room of an array whose final size is not known, in numbers. */
  firstRoom: 1 << 16,
  /** Facets a written chunk holds: 2 MB. */
  facetsPerChunk: 40_000,
} as const;
