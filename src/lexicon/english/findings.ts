import type { FindingFacts, LostPart, Misfit } from '../../check/finding.ts';
import type { ShapeFault } from '../../joint/kind.ts';
import { anglesOf } from '../../math/quaternion.ts';
import type { Vec3 } from '../../math/vec3.ts';
import type { FindingPlace, Language } from '../language.ts';
import type { Names } from '../names.ts';
import { doubtOf } from './doubts.ts';
import { repairs } from './repairs.ts';
import { count, length, mm, numeral, sides, vector, volume, whole } from './speech.ts';

/** Where findings become English. */

/** At the beginning of a sentence, and within one. */
const aPeg = ({ peg }: FindingPlace): string => (peg === null ? 'The peg' : `Peg ${peg}`);
const thePeg = (where: FindingPlace): string => aPeg(where).toLowerCase();

export const findings: Language['findings'] = {
  'open-edges': ({ count: n }) =>
    `${count(n, 'edge')} of the mesh ${n === 1 ? 'is' : 'are'} open: it has a hole or a gap.`,
  'winding-errors': ({ count: n }) =>
    `${count(n, 'edge')} ${n === 1 ? 'lies' : 'lie'} between triangles that face opposite ways.`,
  'degenerate-triangles': ({ count: n }) =>
    `${count(n, 'triangle')} without area ${n === 1 ? 'was' : 'were'} dropped.`,
  'duplicate-triangles': ({ count: n }) =>
    `${count(n, 'doubled triangle')} ${n === 1 ? 'was' : 'were'} dropped.`,
  'inside-out': () => 'The mesh was inside out and has been turned outward.',
  mended: (repair) => repairs[repair.code](repair),
  'shells-overlap': overlapSentence,
  'specks-far': ({ count: n, sizeMm, withMm, belowMm }) =>
    `${count(n, 'speck')} far from the figure ${n === 1 ? 'makes' : 'make'} it ${length(withMm)} long where it is ${length(sizeMm)} without; drop what is smaller than ${length(belowMm)} (the job’s “mend”: “drop-specks”).`,
  'size-unlikely': ({ longestMm, leastMm, mostMm }) => {
    const [is, than] = longestMm < leastMm ? ['smaller', leastMm] : ['larger', mostMm];
    return `The figure is ${length(longestMm)} long, ${is} than the ${length(than)} that makes sense to part and print; check its unit and scale.`;
  },
  'coordinates-coarse': ({ stepMm, sizeMm }) =>
    `The places of this figure are known in steps of ${length(stepMm)} only, coarse for one ${length(sizeMm)} long: its numbers are too large for single precision, and finer detail is gone; export it nearer its origin, or smaller.`,
  'overlap-unproved': ({ part }) =>
    `Part “${part}” cannot be proved: shells of the sculpt overlap there, or may, and what they share counts twice in its volume and its seam faces; unite them first (the job's “mend”, or Unite among the sculpt's own fields).`,
  'no-volume': () => 'The mesh encloses no volume.',
  'no-peg-fits': (facts) => `No peg fits here: ${misfitReason(facts)}`,
  'peg-shape-impossible': (facts, where) => `${aPeg(where)} cannot be made: ${shapeReason(facts)}`,
  'peg-off-face': (_, where) =>
    `${aPeg(where)} reaches over the edge of the seam face; move it inward or make it smaller.`,
  'pegs-too-close': ({ otherPeg, otherSeam }, where) =>
    `${aPeg(where)} runs into peg ${otherPeg + 1}${otherSeam ? ` of seam “${where.names.seam(otherSeam)}”` : ''}; move them apart.`,
  'socket-breaks-skin': ({ otherSeam }, where) => {
    const through = otherSeam ? `into the face of seam “${where.names.seam(otherSeam)}”` : 'the skin';
    return `The socket of ${thePeg(where)} breaks through ${through}; make it shorter or smaller, or move it.`;
  },
  'joint-crosses-seam': (facts, where) =>
    `${aPeg(where)} ${crossing(facts, where.names)}; move the peg or one of the seams, or make the peg shorter or smaller.`,
  'wall-thin': (facts, where) =>
    `The wall between the socket of ${thePeg(where)} and ${neighbour(facts, where.names)} is ${mm(facts.wallMm)}, thinner than the ${mm(facts.minWallMm)} asked for.`,
  'gap-not-met': ({ which, measuredMm, askedMm }, where) =>
    `The ${which} gap of ${thePeg(where)} measures ${mm(measuredMm, 3)} where ${mm(askedMm, 3)} was asked.`,
  'gap-unmeasured': ({ which }, where) =>
    `The ${which} gap of ${thePeg(where)} cannot be measured: that side of the peg or its socket is not in the finished parts. Move the peg, or make it smaller.`,
  'seats-more-than-one-way': ({ goIn }) =>
    `The parts can be put together in more than one way${goIn === 0 ? ', for magnets hold them and say nothing of how they sit; add a peg, or pins' : '; make the pegs unequal or set them unevenly'}.`,
  'seam-without-peg': () => 'This seam has no peg yet.',
  'seam-without-face': ({ pegs }) =>
    `This seam meets no face: it runs between bodies that nothing joins there, so ${pegs === 0 ? 'no peg can stand on it' : `${count(pegs, 'peg')} could not be placed`}. Move the seam into the material.`,
  'seam-all-bent': ({ pegs }) =>
    `This seam is curved all along, so ${pegs === 0 ? 'no peg can stand on it' : `${count(pegs, 'peg')} could not be placed`}. Make its line straight somewhere by a flat.`,
  'seam-waits': waitingSentence,
  'face-without-peg': ({ faces, bare, areaMm2, fits }) => {
    const lead = fits ? 'put a peg on each face' : 'none would fit there';
    return `This seam makes ${faces} faces, and ${bare} of them ${bare === 1 ? 'has' : 'have'} no peg, the largest of ${numeral(areaMm2, 1)} mm²: ${lead}.`;
  },
  'gives-way': ({ part, to, trimmedMm3 }) =>
    `“${part}” gives way to “${to.part}” where they overlap and loses ${volume(trimmedMm3)}; the seam can let the other give way.`,
  'flat-hands-over': ({ part, from, volumeMm3, filledMm3 }) =>
    `To meet on the flat, “${part}” takes over ${volume(volumeMm3)} of “${from.part}”; ${volume(Math.max(0, filledMm3))} between them there is filled.`,
  'nest-gap-not-met': ({ askedMm, minMm, maxMm }) =>
    `The gap between these bodies is to be ${mm(askedMm, 3)} and is ${mm(minMm, 3)} to ${mm(maxMm, 3)}: at sharp edges and in folds their surfaces cannot run side by side.`,
  'nest-without-flat': ({ pegs, flatMisses }) =>
    flatMisses
      ? `The flat set across these bodies meets nothing that both share${pegs === 0 ? '' : `, so ${count(pegs, 'peg')} could not be placed`}. Move it to where they overlap, or a little inside of where they touch, or take it away.`
      : pegs === 0
        ? 'These bodies meet on curved surface alone: nothing but their shape holds them. Set a flat across it to put a peg on.'
        : `These bodies meet on curved surface alone, so ${count(pegs, 'peg')} could not be placed. Set a flat across it for them to stand on, or remove them.`,
  'draw-blocked': ({ isJoined, isHooked }) =>
    isHooked
      ? 'The parts of this seam cannot be pulled apart along their pegs: its line turns back beside the figure, and there one part hooks behind the other. Take the pegs off, or draw the line past there without turning back.'
      : isJoined
        ? 'These bodies cannot be pulled apart: one reaches behind the other. Let the other give way, or divide one of them by a seam first.'
        : 'The parts of this seam cannot be pulled apart along their pegs: what it leaves whole is in the way. Cut that outline as well, or turn the seam.',
  'draw-sideways': () =>
    'The parts of this seam cannot be lifted off each other, for its line turns back behind them: they slide apart along its sweep alone. A peg on it would lock them.',
  'draw-locked': ({ pegs, facets }) => {
    const many = (word: string, numbers: readonly number[]) =>
      `${word}${numbers.length === 1 ? '' : 's'} ${numbers.map((n) => n + 1).join(', ')}`;
    const held = many('peg', pegs);
    const what = facets.length > 0 ? `${held} and ${many('run', facets)} of its line` : held;
    return `The parts of this seam cannot be put together: no direction clears ${what}. Put the pegs on runs that face one way, or turn those runs.`;
  },
  'part-in-pieces': ({ part, pieces }) =>
    `Part “${part}” falls into ${pieces} pieces that nothing holds together; move the seam, or divide it again.`,
  'clearance-missing': ({ gapMm, which }, where) =>
    `${aPeg(where)} has ${gapMm === 0 ? 'no' : `only ${mm(gapMm, 3)} of`} ${which} gap: it cannot go in. Ask for the gap your process needs.`,
  'clearance-small': ({ which, gapMm, leastMm }, where) =>
    `The ${which} gap of ${thePeg(where)} is ${mm(gapMm, 3)}; no process holds less than ${mm(leastMm)} (common practice).`,
  'clearance-large': ({ which, gapMm, mostMm }, where) =>
    `The ${which} gap of ${thePeg(where)} is ${mm(gapMm)}, more than the ${mm(mostMm)} that any process needs; the joint will be loose.`,
  'part-not-closed': ({ part, openEdges }) =>
    `Part “${part}” has ${count(openEdges, 'faulty edge')} and should not be printed.`,
  'part-too-thin': ({ part, thicknessMm }) =>
    `Part “${part}” is a sheet of ${mm(thicknessMm, 6)}, too thin to be made; move the seam away from the skin.`,
  'part-lies-otherwise': lyingSentence,
  'part-outgrows-bed': outgrowsSentence,
  'small-magnet': (_, where) =>
    `${aPeg(where)} holds two small magnets. A magnet that comes loose can be swallowed, and two of them hurt badly inside a body: glue them in, keep them from children, and mind the rules where you live.`,
  'closed-in-print': ({ coverMm }, where) =>
    `${aPeg(where)} closes its magnets in under ${mm(coverMm)}: the print has to be paused just before the pocket is roofed over, and the magnet put in with its pole the right way.`,
  'parts-moved': ({ movedMm }) =>
    `Where the sculpt lies, an STL file cannot hold these parts as finely as they were measured: all of them are written moved by ${vector(movedMm)} mm, so that they still lie against each other.`,
  'kernel-disagrees': ({ part, doubt }) =>
    `The solid kernel does not agree that part “${part}” is sound (${doubtOf(doubt)}); move the seam or the peg a little.`,
  'volume-unbalanced': ({ residualMm3 }) =>
    `The parts' volumes differ from the sculpt's by ${volume(residualMm3)}.`,
};

const AXIS_WORDS = { x: 'width (X)', y: 'depth (Y)', z: 'height (Z)' } as const;

/** Three sizes, with the decimals that show a difference of `overMm`. */
const sizes = (of: Vec3, overMm: number): string => sides(of, decimalsFor(overMm));
const decimalsFor = (mm: number): number => Math.min(4, Math.max(1, Math.ceil(-Math.log10(mm))));

/** A part that fits the bed when it is turned. */
function lyingSentence(facts: FindingFacts['part-lies-otherwise']): string {
  const { overMm, axis } = facts;
  const { part, bed, over } = besideBed(facts);
  return `${part} and does not fit ${bed} as it stands, by ${mm(overMm, over)} along the bed's ${AXIS_WORDS[axis]}; it does ${turnedSo(facts)}: turn it so before printing.`;
}

/** A part that fits the bed in no turn, or in none that was found. */
function outgrowsSentence(facts: FindingFacts['part-outgrows-bed']): string {
  const { overMm, axis, withinMm } = facts;
  const { part, bed, over } = besideBed(facts);
  const none = withinMm < overMm ? 'in no turn' : 'in no turn that was found';
  const better =
    withinMm < 10 ** -over / 2 ? '' : `, and ${mm(withinMm, over)} less at most in any other turn`;
  return `${part} and fits ${bed} ${none}: at best, ${turnedSo(facts)}, it is ${mm(overMm, over)} too much along the bed's ${AXIS_WORDS[axis]}${better}; move a seam, or add one.`;
}

/** How a part is turned: by what is upright, else about the bed's axes one after the other. */
function turnedSo({ turn, up }: FindingFacts['part-lies-otherwise']): string {
  if (up !== null) return up === 'z' ? 'as it stands' : `with its ${AXIS_WORDS[up]} upright`;
  const turns = anglesOf(turn).map((deg, k) => ({ deg, about: 'XYZ'[k] }));
  const told = turns.filter(({ deg }) => Math.abs(deg) >= 0.005);
  return `turned by ${told.map(({ deg, about }) => `${numeral(deg, 2)}° about ${about}`).join(', then ')}`;
}

/** A part and the bed by their sizes, and the decimals that show the difference. */
function besideBed({
  part,
  sizeMm,
  bedMm,
  overMm,
}: Pick<FindingFacts['part-lies-otherwise'], 'part' | 'sizeMm' | 'bedMm' | 'overMm'>) {
  return {
    part: `Part “${part}” is ${sizes(sizeMm, overMm)}`,
    bed: `the build volume of ${sizes(bedMm, overMm)}`,
    over: decimalsFor(overMm),
  };
}

/** What is short where no peg fits, and what would do. */
function misfitReason(short: Misfit): string {
  const wall = `${mm(short.minWallMm, 1)} of wall`;
  switch (short.reason) {
    case 'room': {
      const needed =
        short.lengthMm === undefined ? 'the least that can be printed' : `one ${mm(short.lengthMm, 1)} long`;
      return `with ${wall} all round the face has room for a peg ${mm(short.bestWidthMm, 1)} wide, and ${needed} is ${mm(short.neededWidthMm, 1)}. Move the seam to a wider place, or ask for a thinner wall${short.lengthMm === undefined ? '' : ' or a shorter peg'}.`;
    }
    case 'asked':
      return `${mm(short.askedMm, 1)} is asked for, and with ${wall} all round the face has room for ${mm(short.bestWidthMm, 1)}. Ask for a smaller peg, or move the seam to a wider place.`;
    case 'tip':
      return `by its draft the peg that is asked for ends ${mm(short.tipMm, 1)} thick, and ${mm(short.minWallMm, 1)} is the least that can be printed. Make it at most ${mm(short.longestMm, 1)} long, or wider, or less drafted.`;
    case 'depth':
      return `behind the face the skin comes too near: at best ${mm(short.bestWallMm, 1)} of wall was left, where ${mm(short.minWallMm, 1)} is asked for. Move the seam to a thicker place, or ask for a thinner wall or a shorter peg.`;
    case 'joints':
      return `pegs of other seams stand so near that ${wall} cannot be left. Move them, or the seam.`;
  }
}

/** Why a peg's shape cannot be made, and which of its sizes would do in place of those there are. */
function shapeReason({ reason, widthMm, lengthMm, edgeRadiusMm, draftDeg, would }: ShapeFault): string {
  const why = {
    'edge-radius': `its edge radius of ${mm(edgeRadiusMm)} leaves no core in ${mm(widthMm)} of width`,
    draft: `with a draft of ${numeral(draftDeg, 1)}° a peg ${mm(widthMm)} wide closes before its tip, ${mm(lengthMm)} out`,
    'too-short':
      edgeRadiusMm > 0
        ? `${mm(lengthMm)} of length is less than its rounded edge of ${mm(edgeRadiusMm)} takes`
        : `${mm(lengthMm)} of length is too little`,
    'outline-fine': `its outline is too fine: by an edge radius of ${mm(edgeRadiusMm)} and a draft of ${numeral(draftDeg, 1)}° over ${mm(lengthMm)} a side of it would be lost before its tip`,
    'notch-narrow':
      'its outline leaves so little between two of its sides that nothing of it is left around the socket, which is larger',
    'flat-outside':
      'its flat lies no nearer to the axis than its round, and cuts nothing off; make it nearer, or the diameter larger',
    'cover-thin': `a cover of ${mm(lengthMm)} over the magnet is not laid down whole`,
  }[reason];
  const ways = [
    would.mostLengthMm !== undefined && `at most ${mm(would.mostLengthMm)} long`,
    would.leastLengthMm !== undefined && `at least ${mm(would.leastLengthMm)} long`,
    would.leastWidthMm !== undefined && `at least ${mm(would.leastWidthMm)} across where it is narrowest`,
    would.leastPercent !== undefined && `at least ${whole(would.leastPercent)} % as large`,
    would.mostEdgeRadiusMm !== undefined && `its edge radius at most ${mm(would.mostEdgeRadiusMm)}`,
    would.leastCoverMm !== undefined &&
      `its cover at least ${mm(would.leastCoverMm)}, or 0 for a pocket open at the face`,
    would.mostDraftDeg !== undefined && `its draft at most ${numeral(would.mostDraftDeg, 1)}°`,
  ].filter((way) => way !== false);
  if (reason === 'flat-outside') return `${why}.`;
  return `${why}. ${ways.length > 0 ? `Make it ${ways.join(', or ')}` : 'Change more than one of its sizes'}.`;
}

/** A seam that has nothing to cut, and what would bring it back. */
function waitingSentence({ why, instead }: FindingFacts['seam-waits'], { names }: FindingPlace): string {
  const lead = `This seam waits and cuts nothing: ${lostReason(why, names)}.`;
  const others = instead.map(({ name }) => `“${name}”`).join(' or ');
  const offer = others === '' ? '' : ` As it lies it would divide ${others}.`;
  return `${lead} Its pegs and sizes are kept, and it cuts again when it has its part.${offer}`;
}

function lostReason(why: LostPart, names: Names): string {
  switch (why.is) {
    case 'misses':
      return 'it does not pass through the part it should divide; move it into that';
    case 'not-made':
      return `the part it should divide is not there, for no seam before it makes “${names.part(why.of)}”`;
    case 'divided':
      return `the part it should divide, “${names.part(why.of)}”, is divided already, by seam “${names.seam(why.by)}” before it`;
    case 'no-contact': {
      const [front, back] = why.of;
      return `“${names.part(front)}” and “${names.part(back)}”, which it should join, do not touch`;
    }
  }
}

/** Where a joint leaves its part through another seam's face, and how much of it is then in the way. */
function crossing({ otherSeam, overlapMm3 }: FindingFacts['joint-crosses-seam'], names: Names): string {
  const inTheWay =
    overlapMm3 > 0 ? `, and up to ${volume(overlapMm3)} of it would stand in the part beyond` : '';
  return `reaches through the face of seam “${names.seam(otherSeam)}”${inTheWay}`;
}

/** What a thin wall parts a socket from. */
function neighbour({ otherSeam, otherPeg }: FindingFacts['wall-thin'], names: Names): string {
  const face = otherSeam ? `seam “${names.seam(otherSeam)}”` : 'the skin';
  return otherPeg === undefined
    ? otherSeam
      ? `the face of ${face}`
      : face
    : `peg ${otherPeg + 1} of ${face}`;
}

/** Shells that overlap, or may. */
function overlapSentence({ count: n, shells, complete }: FindingFacts['shells-overlap']): string {
  const look = 'look the sculpt over and unite them (the job’s “mend”: “unite”)';
  if (n === 0)
    return `The sculpt's ${count(shells, 'shell')} lie so close together that not all could be held against each other on opening: they may overlap. What they share would count twice in its volume; ${look}.`;
  const many = `${complete ? '' : 'at least '}${count(n, 'place')}`;
  return `Shells of the sculpt overlap in ${many}: what they share counts twice in its volume and in seam faces, and parts that have it cannot be proved; ${look}.`;
}
