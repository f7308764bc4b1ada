import type { SizeName } from '../../model/joint.ts';
import type { ProcessId } from '../../process/cards.ts';
import type { Proving, Step } from '../../progress.ts';
import { joints } from './joints.ts';
import { mirrorWords } from './mirror.ts';
import { PROVED_ONLY, PROVING } from './proving.ts';
import { sculptWords } from './sculpt.ts';
import { count, mm, numbers, numeral, sides, whole } from './speech.ts';

/** Every word of the page but those of the drawings, its notices and what is told of figures and parts. */

const STEPS: Record<Step, string> = {
  reading: 'Reading',
  welding: 'Joining corners',
  auditing: 'Looking for flaws',
  mending: 'Mending',
  examining: 'Looking it over',
  cutting: 'Cutting',
  jointing: 'Making pegs and sockets',
  checking: 'Measuring gaps and walls',
  proving: 'Having the parts proved',
  writing: 'Writing',
};

/** A number as short as it can be, with its unit, which may be none. */
const withUnit = (value: number, unit: string): string =>
  `${numbers.short(value, 2)}${unit === '°' ? unit : ` ${unit}`.trimEnd()}`;

const sizeOf = (name: SizeName, value: number): string =>
  name.endsWith('Deg') ? withUnit(value, '°') : mm(value, 1);

export const page = {
  ...sculptWords,
  ...mirrorWords,
  appName: 'Pegwright',
  // top bar
  open: 'Open…',
  demo: 'Demo figure',
  saveJob: 'Save job',
  undo: 'Undo',
  redo: 'Redo',
  export: 'Export…',
  theme: 'Light or dark',
  themes: { system: 'As the system', light: 'Light', dark: 'Dark' },
  // opening
  dropHere: 'Drop a sculpt or a job to open it',
  keptByOther:
    'This job is open in another tab, which keeps it: what you do here is lost when you close this tab.',
  keepHere: 'Keep it here instead',
  // status
  readyWith: (errors: number, proving: Proving | null) => {
    const told = errors > 0 ? `${count(errors, 'error')} among the findings` : 'Ready';
    if (proving === null) return told;
    return `${told}, ${proving === 'proved' && errors > 0 ? PROVED_ONLY : PROVING[proving]}`;
  },
  notWorkedOut: 'Not worked out: the findings say why',
  notReady: 'Not ready: the findings say why',
  starting: 'Fetching the figure',
  noFigure: 'No figure on the bench',
  busy: {
    opening: 'Opening',
    evaluating: 'Working it out',
    exporting: 'Exporting',
    examining: 'Looking it over',
    trying: 'Trying it',
  },
  step: (step: Step) => STEPS[step],
  cancel: 'Cancel',
  dismiss: 'Dismiss',
  again: 'Work it out',
  outOfDate: 'What you see is an earlier result.',
  stale: {
    refused: 'An earlier result: the job as it is now is not worked out. The findings say why.',
    working: 'An earlier result: the job as it is now is being worked out.',
    waiting: 'An earlier result: the job has changed since.',
  },
  noFaceHere:
    'No face is drawn: the seam does not pass through the part it should divide; move it into the figure.',
  noFaceYet: 'The seam’s face is being worked out.',
  noFaceFor: (why: string) => `No face is drawn: ${why.charAt(0).toLowerCase()}${why.slice(1)}`,
  exportWaiting: (seams: readonly string[]) =>
    `${count(seams.length, 'seam waits and is', 'seams wait and are')} not cut in these parts: ${seams.join('; ')}. The findings say why.`,
  exportStale: 'These are the parts before the last change, so they are not saved as those of the job.',
  sculptSize: (triangles: number, size: readonly number[]) =>
    `${count(triangles, 'triangle')}, ${sides(size, 1)}`,
  // bench
  bench: 'Bench',
  comingTitle: (name: string) => (name === '' ? 'Your figure is on its way' : `${name} is on its way`),
  startTitle: 'Put a figure on the bench',
  startHow: 'Open an STL, OBJ, PLY, OFF, 3MF, glTF or GLB file, or drop it anywhere here.',
  openFile: 'Open a file…',
  beginWithDemo: 'Begin with the demo heron',
  whatYouCanDo: [
    'Lay a seam through the figure: drag its arrow on the bench, or type where it lies.',
    'Move, size and spin the tapered pegs in the face drawing; the section shows both gaps.',
    'Read the findings, then export the parts, which fit each other as they are.',
  ],
  benchMissing:
    'The bench could not be loaded: the connection to where this workbench comes from is lost; connect again, then reload the page.',
  fit: 'Fit',
  fitHint: 'Fit the figure in view (F)',
  section: 'Section',
  buildVolume: 'Build volume',
  pullApart: 'Pull apart',
  handle: { offset: 'Move the seam', across: 'Tilt the seam across', along: 'Tilt the seam along' },
  handleValue: {
    offset: (offsetMm: number) => mm(offsetMm),
    across: (deg: number) => `${numeral(deg, 1)} degrees`,
    along: (deg: number) => `${numeral(deg, 1)} degrees`,
  },
  pegMark: (n: number) => `Peg ${n}`,
  // list
  seamsAndPegs: 'Seams and pegs',
  partName: (name: string) => `Name of part ${name}`,
  outlineMark: (n: number) => `Outline ${n} of the seam is cut`,
  outlineCut: 'Cut here: press to leave it whole',
  outlineWhole: 'Left whole here: press to cut it',
  hide: 'Hide',
  hidePart: (name: string) => `Hide ${name}`,
  alone: 'Alone',
  alonePart: (name: string) => `Show ${name} alone`,
  /** How a part does on the bed, and by how much it is too big at best. */
  bedState: {
    standing: () => 'fits',
    turned: () => 'fits turned',
    not: (overMm: number) => `${mm(overMm, overMm < 0.95 ? 2 : overMm < 10 ? 1 : 0)} too big`,
  },
  bedAround: (state: string, part: string) => `${state}: show the build volume around ${part}`,
  apart: 'Apart',
  apartPart: (name: string) => `Pull ${name} away from the rest`,
  showAll: 'Show all parts',
  noSeams: 'No seam yet. The figure is whole.',
  faceOf: (n: number, count: number) => `Face ${n} of ${count}`,
  nextFace: (n: number, count: number) => `Face ${n} of ${count}: show the next`,
  addSeam: 'Add seam',
  waits: 'waits',
  /** Which of the seams it is in the order they are cut. */
  cutPlace: (seam: string, n: number, all: number) => `Cut ${n} of ${all}: ${seam}`,
  earlier: 'Earlier',
  later: 'Later',
  cutEarlier: (seam: string) => `Cut ${seam} earlier`,
  cutLater: (seam: string) => `Cut ${seam} later`,
  addSeamTo: (part: string) => `Divide ${part}`,
  wholeFigure: 'the whole figure',
  touching: (front: string, back: string) => `${front} and ${back} touch.`,
  joinTouching: (front: string, back: string) => `Join ${front} and ${back} where they touch`,
  overlapping: (front: string, back: string) => `${front} and ${back} overlap.`,
  joinOverlapping: (front: string, back: string) => `Join ${front} and ${back} where they overlap`,
  join: 'Join',
  joinsTouching: 'It joins two bodies where they touch: nothing is cut.',
  joinsOnFlat: 'It joins two bodies where they touch; a joint stands on a flat across.',
  joinsOverlapping: (gives: string, keeps: string, trimmed: string) =>
    `They overlap: ${gives} gives way to ${keeps} and loses ${trimmed} mm³.`,
  givesWay: 'Gives way',
  nestGap: 'Gap between them',
  rimWidth: 'Gap closes within',
  gapMeasured: (least: string, most: string) => `Gap measured: ${least} to ${most} mm`,
  gapAtRim: (most: string) => `at the outer edge up to ${most} mm`,
  setFlat: 'Set a flat across for a peg',
  removeFlat: 'Remove the flat',
  peg: (n: number) => `Peg ${n}`,
  pegAuto: 'placed for you',
  seamTitle: (front: string, back: string) => `${front} / ${back}`,
  // fields
  notANumber: (text: string) =>
    `“${text}” is no number here. Type one such as 0.2, 1/2 in or 12/2; Escape takes it back.`,
  atLeast: (bound: number, unit: string) => `At least ${withUnit(bound, unit)}.`,
  atMost: (bound: number, unit: string) => `At most ${withUnit(bound, unit)}.`,
  tabs: { sculpt: 'Sculpt', seam: 'Seam', peg: 'Peg', process: 'Process' },
  fieldTabs: 'Fields',
  mm: 'mm' as const,
  deg: '°' as const,
  frontName: 'Front part',
  backName: 'Back part',
  /** The id of a seam that is added. */
  newSeam: (n: number) => `seam ${n}`,
  /** What parts are called where nobody names them, by the side of the figure they are on. */
  sideNames: { right: 'right', left: 'left', rear: 'rear', front: 'front', upper: 'upper', lower: 'lower' },
  pegOn: 'The peg is on',
  offset: 'Offset',
  tiltAcross: 'Tilt across',
  tiltAlong: 'Tilt along',
  squareTo: 'Square to',
  axes: { x: 'Width (X)', y: 'Depth (Y)', z: 'Height (Z)', none: 'Tilted' },
  area: 'Face area',
  perimeter: 'Perimeter',
  narrowestHere: 'Narrowest here',
  squareToLimb: 'Square to the limb',
  narrowestAtClick: 'Narrowest at a click',
  atClick: 'At a click',
  seeking: 'Click a limb',
  bentAllAlong: 'This seam is curved all along. Give a point of its line a flat, and a peg can stand there.',
  drawLine: 'Draw a line over the figure',
  drawingLine: (points: number) =>
    points === 0
      ? 'Click where the line begins: it is swept the way you look.'
      : `${points === 1 ? 'One point' : `${points} points`}: click on, then Enter or Done; Backspace takes one back.`,
  finishLine: 'Done',
  cancelLine: 'Cancel',
  sweptAlong: 'Swept along',
  sweptAsSeen: 'As it was seen',
  lineAt: 'Point of the line',
  linePoint: (n: number, of: number) => `Point ${n} of ${of}`,
  linePlace: { x: 'Point X', y: 'Point Y', z: 'Point Z' },
  lineRuns: 'The line runs',
  lineRunsAre: { straight: 'Straight from point to point', smooth: 'As a smooth curve' },
  flatHere: 'Flat here, wide',
  addLinePoint: 'Add point',
  addLinePointOn: (run: number) => `Add a point on run ${run}`,
  removeLinePoint: 'Remove point',
  removeSeam: 'Remove seam',
  kind: 'Kind',
  kindCalled: joints.kind,
  fieldCalled: joints.field,
  standardSize: 'Standard size',
  ownSize: 'Own size',
  sizeCalled: joints.sizes,
  toGet: joints.toGet,
  poles: (of: readonly { part: string; facing: string }[]) =>
    `${of.map(({ part, facing }) => `The magnet in “${part}” turns its ${facing} pole to the other part`).join('. ')}. So they attract; how strongly is not promised.`,
  minWall: 'Least wall',
  bedSides: ['Bed width', 'Bed depth', 'Bed height'],
  placeForMe: 'Place for me',
  placePegs: 'Pegs placed for you',
  placePegsOf: (n: number) => `Place ${count(n, 'peg', 'pegs')} for me`,
  pegOnEachFace: 'Peg on each face',
  seekMends: 'What would help?',
  noMends: 'Neither shorter, smaller nor elsewhere on its face is it clear: move the peg or a seam by hand.',
  /** A change that was tried, and what it gives. */
  jointMend: (changes: readonly string[], wallMm: number) =>
    `${changes.join(', ')}: clear, ${mm(wallMm)} of wall`,
  sizeInstead: (name: SizeName, to: number, now: number) =>
    `${joints.field(name)} ${mm(to, 1)}, now ${mm(now, 1)}`,
  seekOneWay: 'Make it go in one way only',
  noOneWay: 'Neither a turn, a smaller peg nor a second one does it: set pegs of your own.',
  oneWayMend: (peg: string, changes: readonly string[], wallMm: number) =>
    `${peg}: ${changes.join(', ')}. One way only, ${mm(wallMm)} of wall`,
  /** A change of a joint's size that was tried: what it is now is left out of one that is not there yet. */
  changedSize: (name: SizeName, to: number, now?: number) =>
    `${joints.field(name).toLowerCase()} ${sizeOf(name, to)}${now === undefined ? '' : `, now ${sizeOf(name, now)}`}`,
  oneMorePeg: 'One more peg',
  movedOnFace: (by: number) => `Moved ${mm(by, 1)} on the face`,
  divideInstead: (part: string) => `Divide ${part} instead`,
  removePeg: 'Remove peg',
  drawOutline: 'Draw its outline',
  openOutline: 'Open an SVG',
  outlinePath: 'Outline as an SVG path, in mm',
  drawingOutline: (corners: number) =>
    corners < 3
      ? `Click its corners in the face drawing${corners === 0 ? '' : `, ${count(corners, 'corner')} so far`}.`
      : `${count(corners, 'corner')}: click on, then the first one again or Enter; Backspace takes one back.`,
  takeBackCorner: 'Take one back',
  noPeg: 'No peg is chosen. Add one in the face drawing.',
  noSeam: 'No seam is chosen.',
  emptyMeans: 'An empty field takes the size shown in it.',
  preset: 'Starting values',
  ownValues: 'Own values',
  /** Ways of printing, and where the numbers to start with come from. */
  processes: {
    resin: { label: 'Resin', note: 'Common practice: 0.1–0.3 mm a side; 0.05 mm on a well-set machine.' },
    filament: {
      label: 'Filament',
      note: 'Common practice: 0.2–0.5 mm a side; 0.15 mm on a well-set machine.',
    },
    powder: { label: 'Powder', note: 'Common practice: 0.2–0.6 mm a side.' },
  } satisfies Record<ProcessId, { label: string; note: string }>,
  // findings
  findings: 'Findings',
  noFindings: 'Nothing to note: gaps and walls are as asked.',
  severity: { error: 'Error', warning: 'Caution', info: 'Note' },
  // drawings
  faceDrawing: 'Face drawing',
  sectionDrawing: 'Section drawing',
  addPeg: 'Add peg',
  addPegHint: 'Click on the face where the peg should stand, or press Escape.',
  noFace: 'The seam’s face is drawn here once there is a seam.',
  meetsCurved: 'These bodies meet on curved surface alone. Set a flat across it to put a peg on.',
  meetsNoFace: 'This seam runs between bodies and meets no face: move it into the material.',
  // export
  exportTitle: 'Export',
  thisPart: 'This part',
  partCalled: (name: string) => `This part: ${name}`,
  allParts: 'All parts (zip)',
  partFacts: (size: readonly number[], volumeMm3: number) =>
    `${sides(size, 1)}, ${numeral(volumeMm3 / 1000, 1)} cm³`,
  close: 'Close',
  exportErrors: (n: number) =>
    `${count(n, 'error is', 'errors are')} listed among the findings. The files can still be saved.`,
  partsMoved: (by: readonly number[]) =>
    `So far from the origin an STL file cannot hold the parts as they were measured. All are saved moved by ${by.map(whole).join(', ')} mm, so that they still fit each other.`,
  toGetTitle: 'To get',
  beforePrint: 'Before you print',
  cautions: [
    'Uncured resin, solvents and glues can harm skin, eyes and lungs. Wear gloves, air the room, and follow the maker’s safety sheet and the rules where you live for use and disposal.',
    'Test the fit on a small piece first: printers differ by more than a gap is wide.',
    'Tall or heavy assemblies can tip or come apart. Keep them where nobody walks beneath until the glue has set.',
  ],
  magnetCaution:
    'A small magnet that comes loose can be swallowed, and two of them hurt badly inside a body. Glue them in, keep them from children, and mind the rules where you live.',
};
