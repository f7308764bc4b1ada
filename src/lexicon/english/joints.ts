import type { SizeName } from '../../model/joint.ts';
import type { ToldPeg } from '../told-peg.ts';
import { count, mm, numbers, numeral } from './speech.ts';

/** What joints, their sizes and what a person does with them are called. */

const KINDS: Readonly<Record<string, string>> = {
  taper: 'Tapered peg',
  round: 'Round tapered peg',
  d: 'D tapered peg',
  bar: 'Bar tapered peg',
  outline: 'Own outline',
  pin: 'Loose pin',
  magnet: 'Magnets',
};

const FIELDS: Readonly<Record<SizeName, string>> = {
  widthMm: 'Width',
  heightMm: 'Height',
  diameterMm: 'Diameter',
  flatMm: 'Axis to flat',
  lengthMm: 'Length',
  depthMm: 'Depth a side',
  thicknessMm: 'Thickness',
  coverMm: 'Cover',
  draftDeg: 'Draft',
  edgeRadiusMm: 'Edge radius',
  spinDeg: 'Spin',
  sideGapMm: 'Side gap',
  endGapMm: 'End gap',
};

/** How a size along the face is told after its number. */
const TOLD: Readonly<Record<SizeName, string>> = {
  widthMm: 'wide',
  heightMm: 'high',
  diameterMm: 'in diameter',
};

/** One piece of what goes loose into a joint, and more of them. */
const SUPPLIES: Readonly<Record<string, readonly [string, string]>> = {
  pin: ['round pin', 'round pins'],
  magnet: ['disc magnet', 'disc magnets'],
};

const sizes = (sizesMm: readonly number[]): string =>
  `${sizesMm.map((size) => numbers.short(size, 2)).join(' × ')} mm`;

export const joints = {
  /** One that has no word here goes by its name in a job. */
  kind: (name: string): string => KINDS[name] ?? name,
  field: (name: SizeName): string => FIELDS[name] ?? name,
  toGet: (kind: string, pieces: number, sizesMm: readonly number[], isPrintable: boolean): string =>
    `${count(pieces, ...(SUPPLIES[kind] ?? [kind]))}, ${sizes(sizesMm)}: ${isPrintable ? 'print or get' : 'get'} ${pieces === 1 ? 'it' : 'them'}`,
  sizes,
  number: (index: number): string => `Peg ${index + 1}`,
  told: (index: number, { uv, sizes, spinDeg }: ToldPeg, wallMm: number | null, broken: boolean): string => {
    const parts = [
      ...sizes.map((size) => `${mm(size.mm, 1)} ${TOLD[size.name] ?? size.name}`),
      `at ${mm(uv[0], 1)} across`,
      `${mm(uv[1], 1)} up`,
      ...(spinDeg === null ? [] : [`spin ${numeral(spinDeg, 0)}°`]),
      broken ? 'through the skin' : wallMm === null ? 'wall unknown' : `wall ${numeral(wallMm, 2)} mm`,
    ];
    return `Peg ${index + 1}: ${parts.join(', ')}`;
  },
};
