import type { Finding, FindingFacts, Misfit, ShapeMisfit } from '../check/finding.ts';
import { numeral } from '../math/numeral.ts';
import type { Vec3 } from '../math/vec3.ts';
import { repairSentence } from './repair.ts';
import { AS_WRITTEN, count, length, mm, type Names, vector, volume } from './words.ts';

/** Where findings become English. */

/** One sentence for a finding. Pegs are counted from 1. */
export function findingSentence(finding: Finding, names: Names = AS_WRITTEN): string {
  const found = withNames(finding, names);
  const peg = found.pegIndex === undefined ? 'The peg' : `Peg ${found.pegIndex + 1}`;
  switch (found.code) {
    case 'open-edges':
      return `${count(found.facts.count, 'edge')} of the mesh ${found.facts.count === 1 ? 'is' : 'are'} open: it has a hole or a gap.`;
    case 'winding-errors':
      return `${count(found.facts.count, 'edge')} ${found.facts.count === 1 ? 'lies' : 'lie'} between triangles that face opposite ways.`;
    case 'degenerate-triangles':
      return `${count(found.facts.count, 'triangle')} without area ${found.facts.count === 1 ? 'was' : 'were'} dropped.`;
    case 'duplicate-triangles':
      return `${count(found.facts.count, 'doubled triangle')} ${found.facts.count === 1 ? 'was' : 'were'} dropped.`;
    case 'inside-out':
      return 'The mesh was inside out and has been turned outward.';
    case 'mended':
      return repairSentence(found.facts);
    case 'shells-overlap':
      return overlapSentence(found.facts);
    case 'specks-far': {
      const { count: n, sizeMm, withMm, belowMm } = found.facts;
      return `${count(n, 'speck')} far from the figure ${n === 1 ? 'makes' : 'make'} it ${length(withMm)} long where it is ${length(sizeMm)} without; drop what is smaller than ${length(belowMm)} (the job’s “mend”: “drop-specks”).`;
    }
    case 'size-unlikely': {
      const { longestMm, leastMm, mostMm } = found.facts;
      const [is, than] = longestMm < leastMm ? ['smaller', leastMm] : ['larger', mostMm];
      return `The figure is ${length(longestMm)} long, ${is} than the ${length(than)} that makes sense to part and print; check its unit and scale.`;
    }
    case 'coordinates-coarse': {
      const { stepMm, sizeMm } = found.facts;
      return `The places of this figure are known in steps of ${length(stepMm)} only, coarse for one ${length(sizeMm)} long: its numbers are too large for single precision, and finer detail is gone; export it nearer its origin, or smaller.`;
    }
    case 'overlap-unproved':
      return `Part “${found.facts.part}” cannot be proved: shells of the sculpt overlap there, or may, and what they share counts twice in its volume and its seam faces; unite them first (the job's “mend”, or Unite among the sculpt's own fields).`;
    case 'no-volume':
      return 'The mesh encloses no volume.';
    case 'no-peg-fits':
      return `No peg fits here: ${misfitReason(found.facts)}`;
    case 'peg-shape-impossible':
      return `${peg} cannot be made: ${shapeReason(found.facts)}`;
    case 'peg-off-face':
      return `${peg} reaches over the edge of the seam face; move it inward or make it smaller.`;
    case 'pegs-too-close':
      return `${peg} runs into peg ${found.facts.otherPeg + 1}${found.facts.otherSeam ? ` of seam “${found.facts.otherSeam}”` : ''}; move them apart.`;
    case 'socket-breaks-skin': {
      const through = found.facts.otherSeam ? `into the face of seam “${found.facts.otherSeam}”` : 'the skin';
      return `The socket of ${peg.toLowerCase()} breaks through ${through}; make it shorter or smaller, or move it.`;
    }
    case 'joint-crosses-seam':
      return `${peg} ${crossing(found.facts)}; move the peg or one of the seams, or make the peg shorter or smaller.`;
    case 'wall-thin':
      return `The wall between the socket of ${peg.toLowerCase()} and ${neighbour(found.facts)} is ${mm(found.facts.wallMm)}, thinner than the ${mm(found.facts.minWallMm)} asked for.`;
    case 'gap-not-met':
      return `The ${found.facts.which} gap of ${peg.toLowerCase()} measures ${mm(found.facts.measuredMm, 3)} where ${mm(found.facts.askedMm, 3)} was asked.`;
    case 'gap-unmeasured':
      return `The ${found.facts.which} gap of ${peg.toLowerCase()} cannot be measured: that side of the peg or its socket is not in the finished parts. Move the peg, or make it smaller.`;
    case 'seats-more-than-one-way':
      return 'The parts can be put together in more than one way; make the pegs unequal or set them unevenly.';
    case 'seam-without-peg':
      return 'This seam has no peg yet.';
    case 'seam-without-face':
      return `This seam meets no face: it runs between bodies that nothing joins there, so ${found.facts.pegs === 0 ? 'no peg can stand on it' : `${count(found.facts.pegs, 'peg')} could not be placed`}. Move the seam into the material.`;
    case 'face-without-peg': {
      const { faces, bare, areaMm2, fits } = found.facts;
      const lead = fits ? 'put a peg on each face' : 'none would fit there';
      return `This seam makes ${faces} faces, and ${bare} of them ${bare === 1 ? 'has' : 'have'} no peg, the largest of ${numeral(areaMm2, 1)} mm²: ${lead}.`;
    }
    case 'part-in-pieces':
      return `Part “${found.facts.part}” falls into ${found.facts.pieces} pieces that nothing holds together; move the seam, or divide it again.`;
    case 'clearance-missing':
      return `${peg} has ${found.facts.gapMm === 0 ? 'no' : `only ${mm(found.facts.gapMm, 3)} of`} ${found.facts.which} gap: it cannot go in. Ask for the gap your process needs.`;
    case 'clearance-small':
      return `The ${found.facts.which} gap of ${peg.toLowerCase()} is ${mm(found.facts.gapMm, 3)}; no process holds less than ${mm(found.facts.leastMm)} (common practice).`;
    case 'clearance-large':
      return `The ${found.facts.which} gap of ${peg.toLowerCase()} is ${mm(found.facts.gapMm)}, more than the ${mm(found.facts.mostMm)} that any process needs; the joint will be loose.`;
    case 'part-not-closed':
      return `Part “${found.facts.part}” has ${count(found.facts.openEdges, 'faulty edge')} and should not be printed.`;
    case 'part-too-thin':
      return `Part “${found.facts.part}” is a sheet of ${mm(found.facts.thicknessMm, 6)}, too thin to be made; move the seam away from the skin.`;
    case 'part-lies-otherwise':
      return lyingSentence(found.facts);
    case 'part-outgrows-bed':
      return outgrowsSentence(found.facts);
    case 'parts-moved':
      return `Where the sculpt lies, an STL file cannot hold these parts as finely as they were measured: all of them are written moved by ${vector(found.facts.movedMm)} mm, so that they still lie against each other.`;
    case 'kernel-disagrees':
      return `The solid kernel does not agree that part “${found.facts.part}” is sound (${found.facts.reason}); move the seam or the peg a little.`;
    case 'volume-unbalanced':
      return `The parts' volumes differ from the sculpt's by ${volume(found.facts.residualMm3)}.`;
  }
}

const AXIS_WORDS = { x: 'width (X)', y: 'depth (Y)', z: 'height (Z)' } as const;

/** Three sizes, with the decimals that show a difference of `overMm`. */
const sizes = (mm: Vec3, overMm: number): string =>
  `${mm.map((size) => numeral(size, decimalsFor(overMm))).join(' × ')} mm`;
const decimalsFor = (mm: number): number => Math.min(4, Math.max(1, Math.ceil(-Math.log10(mm))));

/** A part that fits the bed on another side than the one it stands on. */
function lyingSentence(facts: FindingFacts['part-lies-otherwise']): string {
  const { overMm, axis, up } = facts;
  const { part, bed, over } = besideBed(facts);
  return `${part} and does not fit ${bed} as it stands, by ${mm(overMm, over)} along the bed's ${AXIS_WORDS[axis]}; it does with its ${AXIS_WORDS[up]} upright: turn it so before printing.`;
}

/** A part that fits the bed on no side. */
function outgrowsSentence(facts: FindingFacts['part-outgrows-bed']): string {
  const { overMm, axis, up } = facts;
  const { part, bed, over } = besideBed(facts);
  const stand = up === 'z' ? 'as it stands' : `with its ${AXIS_WORDS[up]} upright`;
  return `${part} and fits ${bed} on no side: at best, ${stand}, it is ${mm(overMm, over)} too much along the bed's ${AXIS_WORDS[axis]}; move a seam, or add one.`;
}

/** A part and the bed by their sizes, and the decimals that show the difference. */
function besideBed({ part, sizeMm, bedMm, overMm }: FindingFacts['part-outgrows-bed']) {
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
function shapeReason({ reason, widthMm, lengthMm, edgeRadiusMm, draftDeg, would }: ShapeMisfit): string {
  const why = {
    'edge-radius': `its edge radius of ${mm(edgeRadiusMm)} leaves no core in ${mm(widthMm)} of width`,
    draft: `with a draft of ${numeral(draftDeg, 1)}° a peg ${mm(widthMm)} wide closes before its tip, ${mm(lengthMm)} out`,
    'too-short': `${mm(lengthMm)} of length is less than its rounded edge of ${mm(edgeRadiusMm)} takes`,
  }[reason];
  const ways = [
    would.mostLengthMm !== undefined && `at most ${mm(would.mostLengthMm)} long`,
    would.leastLengthMm !== undefined && `at least ${mm(would.leastLengthMm)} long`,
    would.leastWidthMm !== undefined && `at least ${mm(would.leastWidthMm)} wide and high`,
    would.mostEdgeRadiusMm !== undefined && `its edge radius at most ${mm(would.mostEdgeRadiusMm)}`,
    would.mostDraftDeg !== undefined && `its draft at most ${numeral(would.mostDraftDeg, 1)}°`,
  ].filter((way) => way !== false);
  return `${why}. ${ways.length > 0 ? `Make it ${ways.join(', or ')}` : 'Change more than one of its sizes'}.`;
}

/** The same finding with its other seam, if it has one, by name. */
function withNames(found: Finding, names: Names): Finding {
  if (!('otherSeam' in found.facts) || found.facts.otherSeam === undefined) return found;
  return { ...found, facts: { ...found.facts, otherSeam: names.seam(found.facts.otherSeam) } } as Finding;
}

/** Where a joint leaves its part through another seam's face, and how much of it is then in the way. */
function crossing({ otherSeam, overlapMm3 }: { otherSeam: string; overlapMm3: number }): string {
  const inTheWay =
    overlapMm3 > 0 ? `, and up to ${volume(overlapMm3)} of it would stand in the part beyond` : '';
  return `reaches through the face of seam “${otherSeam}”${inTheWay}`;
}

/** What a thin wall parts a socket from. */
function neighbour({ otherSeam, otherPeg }: { otherSeam?: string; otherPeg?: number }): string {
  const face = otherSeam ? `seam “${otherSeam}”` : 'the skin';
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
