import { numeral, whole } from './speech.ts';

/** How much a figure is its own mirror image across a plane. Lengths mm. */
interface Fit {
  share: number;
  nearMm: number;
  errorMm: { rms: number };
  farthestMm: number;
  isSymmetric: boolean;
}

/** What changes places in a mirror, as people call sides; as a letter alone only where that is a capital. */
const OPPOSITES: ReadonlyMap<string, string> = new Map([
  ['left', 'right'],
  ['right', 'left'],
  ['L', 'R'],
  ['R', 'L'],
]);

/** The name with others in place of its words for sides, in capitals where those were. */
const withSides = (name: string, otherThan: (opposite: string) => string): string =>
  name.replace(/\p{L}+/gu, (word) => {
    const opposite = OPPOSITES.get(word) ?? OPPOSITES.get(word.toLowerCase());
    if (opposite === undefined) return word;
    const side = otherThan(opposite);
    if (word.length === 1) return side;
    if (word === word.toUpperCase()) return side.toUpperCase();
    return word[0] === word[0].toUpperCase() ? side[0].toUpperCase() + side.slice(1) : side;
  });

/** A share in full hundredths: all of it only where it is. */
const percent = (share: number): string => `${whole(Math.floor(share * 100))} %`;

/** Words of mirroring a seam. */
export const mirrorWords = {
  mirrorAcross: 'Mirror across…',
  mirrorPlane: 'Across',
  mirrorPlanes: {
    found: 'The figure’s own plane',
    x: 'Square to width (X)',
    y: 'Square to depth (Y)',
    z: 'Square to height (Z)',
  },
  mirrorOffset: 'Plane offset',
  mirrorMeasuring: 'The figure is being looked over…',
  mirror: 'Mirror the seam',
  mirrorFit: ({ share, nearMm, errorMm, farthestMm, isSymmetric }: Fit, isFound: boolean): string => {
    const has = `${percent(share)} of the skin has its mirror image within ${numeral(nearMm, 2)} mm`;
    const off = errorMm.rms < 0.0005 ? 'less than 0.001 mm' : `${numeral(errorMm.rms, 3)} mm`;
    const rest = share < 1 ? ` The rest is up to ${numeral(farthestMm, 1)} mm off.` : '';
    if (isSymmetric)
      return `${isFound ? 'The figure is symmetric' : 'The figure is symmetric here'}: ${has}, typically ${off} off.${rest}`;
    return isFound
      ? `The figure is not symmetric: across the best plane only ${has}.${rest} Set another plane, or mirror across this one all the same.`
      : `The figure is not symmetric here: only ${has}.${rest} The seam can be mirrored all the same.`;
  },
  /** A part's name as its mirror image is called: the words for left and right in it change places. */
  mirroredName: (name: string): string => withSides(name, (opposite) => opposite),
  /** The name of a part on one side as what lies between that side and the other is called. */
  nameBetween: (name: string): string => withSides(name, () => 'middle'),
  /** A name that another part has already. */
  numberedName: (name: string, n: number): string => `${name.slice(0, 76)} ${n}`,
};
