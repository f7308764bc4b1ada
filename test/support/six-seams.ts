import type { SeamInput } from './job.ts';

/** The demo figure in seven parts, by six seams of three kinds: planes, one of them through some of what it meets; lines, straight and smooth. */
export const SIX_SEAMS: SeamInput[] = [
  { id: 'beak', normal: [1, 0, 0], offsetMm: 45, through: [[45, 0, 165]] },
  {
    id: 'neck',
    of: 'beak.back',
    line: [
      [12, 0, 139],
      [22, 0, 142],
      [30, 0, 142],
      [42, 0, 137],
    ],
    runs: 'smooth',
    flats: [{ at: [27, 0, 142], widthMm: 8 }],
    through: [[28, 0, 141]],
    pegs: [{ kind: 'round', at: 'auto' }],
  },
  {
    id: 'tail',
    of: 'neck.front',
    line: [
      [-30, 0, 60],
      [-26, 0, 88],
      [-34, 0, 92],
      [-30, 0, 130],
    ],
    pegs: [{ kind: 'taper', at: 'auto' }],
  },
  { id: 'legs', of: 'tail.front', offsetMm: 66 },
  { id: 'post', of: 'legs.back', offsetMm: 41, pegs: [{ kind: 'taper', at: 'auto' }] },
  {
    id: 'base',
    of: 'post.back',
    line: [
      [-40, 0, 18],
      [-3, 0, 18],
      [3, 0, 24],
      [40, 0, 24],
    ],
    pegs: [{ kind: 'taper', at: 'auto' }],
  },
];
