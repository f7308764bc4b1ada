import type { Mend } from '../../model/mend.ts';
import type { Unit } from '../../model/units.ts';
import { MINUS } from '../numbers.ts';
import { count, mm, sides, whole } from './speech.ts';

/** What the page says of the sculpt and its soundness. */

/** Decimals that leave a length three figures, and one at least. */
const decimalsFor = (mm: number): number =>
  mm > 0 ? Math.min(6, Math.max(1, 2 - Math.floor(Math.log10(mm)))) : 1;

/** An estimate to two figures, which is all that is known of it. */
const roundish = (n: number): number => Number(n.toPrecision(2));

/** An agreed change of shape in a few words. */
function mendLine(mend: Mend): string {
  switch (mend.do) {
    case 'weld':
      return `Join rims up to ${mm(mend.toleranceMm, 3)} apart`;
    case 'fill-holes':
      return mend.how === 'flat' ? 'Fill holes flat' : 'Fill holes smooth';
    case 'drop-specks':
      return `Drop specks below ${mm(mend.belowMm)}`;
    case 'unite':
      return 'Unite what overlaps';
    case 're-skin':
      return `New skin, cells of ${mm(mend.cellMm, 3)}`;
  }
}

export const sculptWords = {
  fileSize: (size: readonly number[]) => {
    const decimals = decimalsFor(Math.max(...size));
    return sides(size, decimals);
  },
  // the sculpt's own fields
  files: 'File',
  format: 'Format',
  formats: {
    stl: 'STL',
    obj: 'OBJ',
    ply: 'PLY',
    off: 'OFF',
    '3mf': '3MF',
    gltf: 'glTF',
    glb: 'GLB',
  },
  triangles: 'Triangles',
  bodies: 'Bodies',
  bodyCalled: (name: string, n: number) => (name === '' ? `Body ${n}` : name),
  andMore: (n: number) => `and ${whole(n)} more`,
  size: 'Size',
  unit: 'Unit of the file',
  unitProposed: ' (proposed)',
  unitDeclared: ' (as the file says)',
  unitSaid: (unit: string) => `The file says that its numbers are ${unit}.`,
  unitBetter: (now: string, unit: string, then: string) =>
    `The file names no unit. Taken as it is the figure would be ${now}; in ${unit} it would be ${then}.`,
  takeUnit: (unit: string) => `Take ${unit}`,
  standsHigh: 'Height',
  scaleOneTo: 'Scale, 1 to',
  stand: 'Stand',
  thisWayUp: 'This way up',
  chooseSide: 'Choose a side',
  sides: {
    top: 'As it stands (Z)',
    under: `Underside (${MINUS}Z)`,
    right: 'Right side (X)',
    left: `Left side (${MINUS}X)`,
    rear: 'Rear (Y)',
    fore: `Front (${MINUS}Y)`,
  },
  quarterTurns: 'Quarter turn about',
  quarterTurn: (axis: string) => `Quarter turn about ${axis}`,
  standOnBed: 'Stand on the bed',
  // health
  health: 'Soundness',
  isSound: 'Sound: closed and rightly wound.',
  isUnsound: 'Not sound yet: it cannot be cut until this is mended.',
  notSound: 'The drawings come when the sculpt is sound: its own fields say what is wrong.',
  mendedSoFar: 'Mended on opening',
  agreedSteps: 'Agreed steps',
  takeBack: 'Take back',
  takeBackStep: (step: string) => `Take back: ${step}`,
  lookOver: 'Look it over',
  nothingWrong: 'Nothing wrong was found.',
  crossingsUnfinished: 'Looking for crossing triangles ran out of time: there may be more.',
  placeOf: (n: number, all: number, shown: number) =>
    `Place ${n} of ${all > shown ? 'the first ' : ''}${whole(shown)}; press for the next`,
  showPlace: 'Show me',
  hollowKept: 'A hollow is kept as it is.',
  defectMark: 'The place of the flaw',
  remedies: {
    'fill-flat': 'Fill flat',
    'fill-smooth': 'Fill smooth',
    weld: 'Join rims…',
    'drop-specks': 'Drop specks…',
    unite: 'Unite',
    're-skin': 'New skin…',
  },
  joinWithin: 'No farther apart than',
  dropBelow: 'Smaller than',
  cell: 'Cell',
  tryIt: 'Try it',
  estimate: (triangles: number, seconds: number, leastMm: number) =>
    `About ${whole(roundish(triangles))} triangles, in about ${whole(Math.max(1, seconds))} s. Cells of ${mm(leastMm, 3)} are the finest. What is thinner than a cell may be lost.`,
  price: 'Tried, not yet accepted',
  wouldChangeNothing: 'It would change nothing.',
  afterwards: (triangles: number, solid: boolean) =>
    `The sculpt would have ${count(triangles, 'triangle')} and ${solid ? 'be sound' : 'still not be sound'}.`,
  accept: 'Accept',
  leaveIt: 'Leave it',
  units: {
    micron: 'microns',
    mm: 'millimetres',
    cm: 'centimetres',
    inch: 'inches',
    foot: 'feet',
    m: 'metres',
  },
  /** Names that a length may be typed with, beside the signs that all languages share. */
  unitWords: {
    micron: ['micron', 'microns'],
    mm: ['millimetre', 'millimetres'],
    cm: ['centimetre', 'centimetres'],
    inch: ['in', 'inch', 'inches'],
    foot: ['ft', 'foot', 'feet'],
    m: ['metre', 'metres'],
  } satisfies Record<Unit, string[]> as Record<Unit, readonly string[]>,
  /** And an angle. */
  degreeWords: ['deg', 'degree', 'degrees'] as readonly string[],
  mend: mendLine,
};
