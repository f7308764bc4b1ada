import { type Mend, MINUS, numeral, type Proving, type Step } from '../src/index.ts';

/** Every word of the page, in one place. Sentences about refusals and findings come from the engine's door. */

const counted = (n: number, one: string, many: string): string => `${numeral(n, 0)} ${n === 1 ? one : many}`;

const STEP_WORDS: Record<Step, string> = {
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

const PROVING_WORDS: Record<Proving, string> = {
  proved: 'parts proved sound',
  'too-big': 'parts too big for the kernel to prove',
  overlaps: 'parts with overlapping shells cannot be proved',
  'not-loaded': 'parts not proved: the kernel could not be loaded; connect again and reload the page',
  crashed: 'parts not proved: the kernel stopped over them',
  'timed-out': 'parts not proved: it took the kernel too long',
};

/** Of parts with errors: what was proved of them, and no more. */
const PROVED_ONLY = 'parts proved closed solids';

export const words = {
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
  skipToSeam: 'Skip to the seam on the bench',
  // opening
  dropHere: 'Drop a sculpt or a job to open it',
  noFileDropped: 'That was not a file. Drop an STL, OBJ, PLY, OFF, 3MF, glTF or GLB file, or a job.',
  demoMissing: 'The demo figure could not be fetched. Open a sculpt of your own instead.',
  openedInstead: (name: string, before: string) =>
    `Opened ${name}. Undo brings ${before === name ? 'the earlier one' : before} back, seams and all.`,
  seamsRemoved: (titles: readonly string[]) =>
    `Removed ${titles.length} seams: ${titles.join(', ')}. All but the first divided parts that it made. Undo brings them back.`,
  filesGone: 'Some of its files are gone.',
  keptUnopened: (why: string) =>
    `What was kept from your last visit could not be opened, and the demo figure stands in for it. ${why} It stays kept until you change or open something here.`,
  keptByOther:
    'This job is open in another tab, which keeps it: what you do here is lost when you close this tab.',
  keepHere: 'Keep it here instead',
  jobApplied: (name: string) => `Opened the job ${name}.`,
  jobAwaits: (name: string, sculpt: string) =>
    `The job ${name} is for ${sculpt}. Open that and the job comes with it.`,
  openStopped: 'Opening was stopped. The bench is as it was.',
  reopenStopped: 'Stopped. The sculpt is still as it was; undo the change, or work it out.',
  lookStopped: 'Stopped. The sculpt is as it was.',
  standsNowhere: 'The sculpt has no flat side that it would stand on.',
  notKept: 'This browser keeps nothing between visits here: save the job before you leave.',
  // status
  readyWith: (errors: number, proving: Proving | null) => {
    const told = errors > 0 ? `${counted(errors, 'error', 'errors')} among the findings` : 'Ready';
    if (proving === null) return told;
    return `${told}, ${proving === 'proved' && errors > 0 ? PROVED_ONLY : PROVING_WORDS[proving]}`;
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
  step: (step: Step) => STEP_WORDS[step],
  cancel: 'Cancel',
  dismiss: 'Dismiss',
  stopped: 'Stopped. The job is as you left it; what you see is the last finished result.',
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
  exportStale: 'These are the parts before the last change, so they are not saved as those of the job.',
  restarted: 'The engine stopped and was started again. Your job is intact and is being worked out anew.',
  lostAgain:
    'The engine stopped on this job again. The job is intact: undo the last change, or change it, to go on.',
  fileSize: (size: readonly number[]) => {
    const decimals = decimalsFor(Math.max(...size));
    return `${size.map((s) => numeral(s, decimals)).join(' × ')} mm`;
  },
  sculptSize: (triangles: number, size: readonly number[]) =>
    `${counted(triangles, 'triangle', 'triangles')}, ${size.map((s) => numeral(s, 1)).join(' × ')} mm`,
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
  andMore: (n: number) => `and ${numeral(n, 0)} more`,
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
  placeOf: (n: number, count: number, shown: number) =>
    `Place ${n} of ${count > shown ? 'the first ' : ''}${numeral(shown, 0)}; press for the next`,
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
    `About ${numeral(roundish(triangles), 0)} triangles, in about ${numeral(Math.max(1, seconds), 0)} s. Cells of ${numeral(leastMm, 3)} mm are the finest. What is thinner than a cell may be lost.`,
  price: 'Tried, not yet accepted',
  wouldChangeNothing: 'It would change nothing.',
  afterwards: (triangles: number, solid: boolean) =>
    `The sculpt would have ${counted(triangles, 'triangle', 'triangles')} and ${solid ? 'be sound' : 'still not be sound'}.`,
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
  sectionHint: 'Clip the figure through the chosen peg',
  pullApart: 'Pull apart',
  handle: { offset: 'Move the seam', across: 'Tilt the seam across', along: 'Tilt the seam along' },
  handleValue: {
    offset: (mm: number) => `${numeral(mm)} mm`,
    across: (deg: number) => `${numeral(deg, 1)} degrees`,
    along: (deg: number) => `${numeral(deg, 1)} degrees`,
  },
  pegMark: (n: number) => `Peg ${n}`,
  // list
  seamsAndPegs: 'Seams and pegs',
  noSeams: 'No seam yet. The figure is whole.',
  addSeam: 'Add seam',
  addSeamTo: (part: string) => `Divide ${part}`,
  wholeSculpt: 'the whole figure',
  peg: (n: number) => `Peg ${n}`,
  pegAuto: 'placed for you',
  seamTitle: (front: string, back: string) => `${front} / ${back}`,
  // fields
  notANumber: (text: string) =>
    `“${text}” is no number here. Type one such as 0.2, 1/2 in or 12/2; Escape takes it back.`,
  outOfBounds: (
    value: number,
    min: number | undefined,
    max: number | undefined,
    unit: string,
  ): string | null => {
    const isBelow = min !== undefined && value < min;
    if (!isBelow && (max === undefined || value <= max)) return null;
    const bound = `${numeral((isBelow ? min : max) ?? 0, 2).replace(/\.?0+$/, '')}${unit === '°' ? unit : ` ${unit}`.trimEnd()}`;
    return isBelow ? `At least ${bound}.` : `At most ${bound}.`;
  },
  tabs: { sculpt: 'Sculpt', seam: 'Seam', peg: 'Peg', process: 'Process' },
  fieldTabs: 'Fields',
  mm: 'mm',
  deg: '°',
  frontName: 'Front part',
  backName: 'Back part',
  pegOn: 'The peg is on',
  offset: 'Offset',
  tiltAcross: 'Tilt across',
  tiltAlong: 'Tilt along',
  squareTo: 'Square to',
  axes: { x: 'Width (X)', y: 'Depth (Y)', z: 'Height (Z)', none: 'Tilted' },
  area: 'Face area',
  perimeter: 'Perimeter',
  removeSeam: 'Remove seam',
  kind: 'Kind',
  kinds: { taper: 'Tapered peg' },
  width: 'Width',
  height: 'Height',
  length: 'Length',
  draft: 'Draft',
  edgeRadius: 'Edge radius',
  spin: 'Spin',
  sideGap: 'Side gap',
  endGap: 'End gap',
  minWall: 'Least wall',
  bed: 'Bed',
  bedSides: ['Bed width', 'Bed depth', 'Bed height'],
  placeForMe: 'Place for me',
  pegOnEachFace: 'Peg on each face',
  removePeg: 'Remove peg',
  noPeg: 'No peg is chosen. Add one in the face drawing.',
  noSeam: 'No seam is chosen.',
  emptyMeans: 'An empty field takes the size shown in it.',
  preset: 'Starting values',
  ownValues: 'Own values',
  measured: 'Measured',
  // findings
  findings: 'Findings',
  noFindings: 'Nothing to note: gaps and walls are as asked.',
  severity: { error: 'Error', warning: 'Caution', info: 'Note' },
  // drawings
  faceDrawing: 'Face drawing',
  sectionDrawing: 'Section drawing',
  addPeg: 'Add peg',
  addPegHint: 'Click on the face where the peg should stand, or press Escape.',
  besideFace: 'No peg was set: that place is beside the face. Choose one inside its outline.',
  noFace: 'The seam’s face is drawn here once there is a seam.',
  meetsNoFace: 'This seam runs between bodies and meets no face: move it into the material.',
  sheet: (title: string, what: string) => `${title}: ${what}`,
  // export
  exportTitle: 'Export',
  thisPart: 'This part',
  partCalled: (name: string) => `This part: ${name}`,
  allParts: 'All parts (zip)',
  exported: (name: string, proving: Proving) =>
    `Saved ${name}${proving === 'proved' ? '' : `, ${PROVING_WORDS[proving]}`}.`,
  exportStopped: 'Stopped. Nothing was saved.',
  partFacts: (size: readonly number[], volumeMm3: number) =>
    `${size.map((s) => numeral(s, 1)).join(' × ')} mm, ${numeral(volumeMm3 / 1000, 1)} cm³`,
  close: 'Close',
  exportErrors: (n: number) =>
    `${counted(n, 'error is', 'errors are')} listed among the findings. The files can still be saved.`,
  partsMoved: (by: readonly number[]) =>
    `So far from the origin an STL file cannot hold the parts as they were measured. All are saved moved by ${by.map((mm) => numeral(mm, 0)).join(', ')} mm, so that they still fit each other.`,
  beforePrint: 'Before you print',
  cautions: [
    'Uncured resin, solvents and glues can harm skin, eyes and lungs. Wear gloves, air the room, and follow the maker’s safety sheet and the rules where you live for use and disposal.',
    'Test the fit on a small piece first: printers differ by more than a gap is wide.',
    'Tall or heavy assemblies can tip or come apart. Keep them where nobody walks beneath until the glue has set.',
  ],
} as const;

/** Decimals that leave a length three figures, and one at least. */
const decimalsFor = (mm: number): number =>
  mm > 0 ? Math.min(6, Math.max(1, 2 - Math.floor(Math.log10(mm)))) : 1;

/** An estimate to two figures, which is all that is known of it. */
const roundish = (n: number): number => Number(n.toPrecision(2));

/** An agreed change of shape in a few words. */
export function mendLine(mend: Mend): string {
  switch (mend.do) {
    case 'weld':
      return `Join rims up to ${numeral(mend.toleranceMm, 3)} mm apart`;
    case 'fill-holes':
      return mend.how === 'flat' ? 'Fill holes flat' : 'Fill holes smooth';
    case 'drop-specks':
      return `Drop specks below ${numeral(mend.belowMm, 2)} mm`;
    case 'unite':
      return 'Unite what overlaps';
    case 're-skin':
      return `New skin, cells of ${numeral(mend.cellMm, 3)} mm`;
  }
}
