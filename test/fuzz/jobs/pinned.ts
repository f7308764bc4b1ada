/** Seeds of jobs that failed once, beyond the slice, each with a word on what was wrong. */
export const PINNED: readonly (readonly [seed: number, about: string])[] = [
  [29, 'the wall between two sockets was not measured'],
  [34, 'the wall between sockets of two seams was not measured'],
  [36, 'a wall between two sockets thinner than asked was not told'],
  [45, 'pieces of a figure with overlapping shells hung together by nothing'],
  [49, 'a wall of 0.04 mm between two sockets was not told'],
  [51, 'a peg without any clearance was called right'],
  [57, 'a piece that fell off a seam was not told'],
  [72, 'the wall to the neighbour was told as the one to the skin'],
  [75, 'walls between sockets of five seams were not measured'],
  [88, 'a hair of skin beside a later seam opened the part'],
  [100, 'a clearance of a thousandth of a millimetre was called right'],
  [106, 'two faces of a seam got one peg in silence'],
  [123, 'a peg whose place rounding took from the file'],
  [126, 'a socket that ended in the skin left edges open'],
  [147, 'a wall between sockets and a loose piece were not told'],
];
