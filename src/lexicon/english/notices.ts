import type { Language } from '../language.ts';
import { PROVING } from './proving.ts';
import { count, numeral, whole } from './speech.ts';

/** What the page tells of itself. */

export const notices: Language['notices'] = {
  'opened-instead': ({ file, before }) =>
    `Opened ${file}. Undo brings ${before === file ? 'the earlier one' : before} back, seams and all.`,
  'no-file-dropped': () =>
    'That was not a file. Drop an STL, OBJ, PLY, OFF, 3MF, glTF or GLB file, or a job.',
  'demo-missing': () => 'The demo figure could not be fetched. Open a sculpt of your own instead.',
  'seams-left-waiting': ({ seams }) => {
    const called = seams.map(({ front, back }) => `${front} / ${back}`).join(', ');
    return `${count(seams.length, 'seam waits', 'seams wait')} now for a part that is gone: ${called}. Pegs and sizes are kept; undo brings the part back.`;
  },
  'kept-unopened': ({ why }, say) =>
    `What was kept from your last visit could not be opened, and the demo figure stands in for it. ${why === 'files-gone' ? 'Some of its files are gone.' : say(why)} It stays kept until you change or open something here.`,
  'job-applied': ({ job }) => `Opened the job ${job}.`,
  'job-awaits': ({ job, files }) =>
    `The job ${job} is for ${files.join(', ')}. Open that and the job comes with it.`,
  'open-stopped': () => 'Opening was stopped. The bench is as it was.',
  'reopen-stopped': () => 'Stopped. The sculpt is still as it was; undo the change, or work it out.',
  'look-stopped': () => 'Stopped. The sculpt is as it was.',
  'outlines-ended': () =>
    'A limb that this seam cuts ends before it gets here: move it back, or choose its outlines anew.',
  'line-too-short': () => 'A line needs two points; click another one on the figure or beside it.',
  'narrowest-found': ({ beforeMm2, afterMm2 }) =>
    `The seam is where this limb is narrowest: its section has ${numeral(afterMm2, 1)} mm², and had ${numeral(beforeMm2, 1)} mm².`,
  'pegs-placed': ({ count: placed, wallMm, oneWay }) => {
    const ways = oneWay ? 'they go in one way only' : 'they go in more ways than one';
    const pegs =
      placed === 1 ? 'One peg is placed' : `${count(placed, 'peg is', 'pegs are')} placed, and ${ways}`;
    return `${pegs}: ${numeral(wallMm, 1)} mm of wall is left.`;
  },
  'fewer-pegs-fit': ({ asked, fit }) =>
    `Of ${count(asked, 'peg', 'pegs')} only ${fit === 0 ? 'none has' : fit === 1 ? 'one has' : `${whole(fit)} have`} room on this seam; its own pegs stay as they are.`,
  'no-limb': () =>
    'No narrowest place was found from there: nothing is cut, or the limb only thins towards its end. Begin elsewhere on it.',
  'squared-to-limb': ({ beforeMm2, afterMm2, turnedDeg }) =>
    `The seam is square to this limb, turned by ${numeral(turnedDeg, 1)}°: its section has ${numeral(afterMm2, 1)} mm², and had ${numeral(beforeMm2, 1)} mm².`,
  'no-direction': () =>
    'The seam stays as it was: where it is now no limb has a clear direction. It may cut nothing, or the limb is too short, branches here, or is round like a ball. Move it along the limb, or tilt it nearer to square.',
  'seam-mirrored': ({ front, back, ownMm2, imageMm2 }) =>
    `Mirrored: the new seam parts “${front}” from “${back}”. Its face has ${numeral(imageMm2, 1)} mm², the one it is the image of ${numeral(ownMm2, 1)} mm².`,
  'work-stopped': () => 'Stopped. The job is as you left it; what you see is the last finished result.',
  'export-stopped': () => 'Stopped. Nothing was saved.',
  'stands-nowhere': () => 'The sculpt has no flat side that it would stand on.',
  'not-kept': () => 'This browser keeps nothing between visits here: save the job before you leave.',
  restarted: () =>
    'The engine stopped and was started again. Your job is intact and is being worked out anew.',
  'lost-again': () =>
    'The engine stopped on this job again. The job is intact: undo the last change, or change it, to go on.',
  exported: ({ file, proving, waiting }) => {
    const without =
      waiting === 0 ? '' : ` ${count(waiting, 'seam waits and is', 'seams wait and are')} not cut in it.`;
    return `Saved ${file}${proving === 'proved' ? '' : `, ${PROVING[proving]}`}.${without}`;
  },
  'beside-figure': () =>
    'That click went beside the figure. Click the limb that is meant; Escape leaves it as it is.',
  'beside-face': () => 'No peg was set: that place is beside the face. Choose one inside its outline.',
};
