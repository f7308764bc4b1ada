import type { OrderFault } from '../../errors.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import type { Step } from '../../progress.ts';
import type { Language } from '../language.ts';
import type { Names } from '../names.ts';
import { jobFaultWords, usageSentence } from './calls.ts';
import { doubtOf } from './doubts.ts';
import { fileFault, fileFeature, fileUnit, foreignKinds, formatNames, troubleWith } from './files.ts';
import { outlineRefusal } from './outlines.ts';
import { at, count, mm, numeral, whole } from './speech.ts';

/** Where refusals become English: what is wrong, where, what to do. A sentence about a file begins with its name and a colon. */

const gigabytes = (bytes: number): string => `${numeral(bytes / 1e9, 1)} GB`;

const MANY = { bodies: 'bodies', files: 'packed files', levels: 'levels of nesting' } as const;

const MISSING_CODE = {
  engine: 'The engine',
  kernel: 'The solid kernel',
  step: 'What this step needs',
} as const;

/** Steps, as what is done in them. */
const WORK: Record<Step, string> = {
  reading: 'the reading',
  welding: 'the joining of corners',
  auditing: 'the search for flaws',
  mending: 'the mending',
  examining: 'the look over it',
  cutting: 'the cut',
  jointing: 'the joint',
  checking: 'the measuring',
  proving: 'the proof',
  writing: 'the writing',
};

export const refusals: Language['refusals'] = {
  'file-empty': ({ file }) => `${file}: the file is empty; export it again and open the new copy.`,
  'file-unreadable': ({ file, trouble }) =>
    `${file}: the file cannot be read ${troubleWith(trouble, 'check its name and that you may open it')}.`,
  'file-unwritable': ({ file, trouble }) =>
    `${file}: cannot be written ${troubleWith(trouble, 'choose another place')}.`,
  'file-over-input': ({ file, input }) =>
    `${file}: this would be written over ${input}, which the parts are made from; choose another folder.`,
  'format-unknown': ({ file, looksLike }) => {
    const what = looksLike
      ? `this is ${foreignKinds[looksLike]}, not a mesh`
      : 'no mesh format is recognised in it';
    return `${file}: ${what}; open an STL, OBJ, PLY, OFF, 3MF, glTF or GLB file.`;
  },
  'file-truncated': ({ file, promised, found, unit, of }) =>
    `${file}: the file ends early, it promises ${whole(promised)} ${fileUnit(unit, of)} and holds ${whole(found)}; copy or export it again.`,
  'file-malformed': ({ file, format, line, fault }) => {
    const where = line === undefined ? '' : ` in line ${whole(line)}`;
    return `${file}: not a sound ${formatNames[format]} file, ${fileFault(fault)}${where}; export it again.`;
  },
  'file-no-triangles': ({ file }) => `${file}: the file holds no triangles; export the figure as a mesh.`,
  'file-feature-unknown': ({ file, format, feature }) =>
    `${file}: this ${formatNames[format]} file needs ${fileFeature(feature)}, which cannot be read here; export it again without that.`,
  'file-beside-missing': ({ file, needs }) =>
    `${file}: its mesh lies in another file, “${needs}”, which was not given; open both together.`,
  'file-unpacks-too-big': ({ file, bytes, limit }) =>
    `${file}: it unpacks to ${gigabytes(bytes)} or more, past the limit of ${gigabytes(limit)}; reduce the figure or split it before opening.`,
  'file-too-many': ({ file, what, limit }) =>
    `${file}: it has more than the ${whole(limit)} ${MANY[what]} a file may have; export the figure alone.`,
  'file-too-big': ({ file, triangles, limit }) =>
    `${file}: ${count(triangles, 'triangle')} are more than the ${whole(limit)} one figure may have; reduce it or split it before opening.`,
  'out-of-memory': ({ file }) =>
    `${file}: the figure does not fit into memory here; close other pages or programs, or reduce the figure.`,
  'coordinates-not-finite': ({ file, count: n }) =>
    `${file}: ${count(n, 'coordinate')} cannot be a place in space (not a number, infinite or absurdly far); repair the mesh where it was made.`,
  'mesh-not-closed': ({ file, openEdges, nonManifoldEdges, windingErrors, at: place }) => {
    const faults = [
      openEdges > 0 && count(openEdges, 'open edge'),
      nonManifoldEdges > 0 && `${count(nonManifoldEdges, 'edge')} shared by more than two triangles`,
      windingErrors > 0 && `${count(windingErrors, 'edge')} between triangles that face opposite ways`,
    ].filter(Boolean);
    return `${file}: the mesh is not closed, it has ${faults.join(', ')}, the first near ${at(place)}; have it mended (the job's “mend”), or close it where it was made.`;
  },
  'mesh-no-volume': ({ file }) =>
    `${file}: the mesh encloses no volume; give the surface a thickness before opening it.`,
  'job-unreadable': ({ file }) =>
    `${file}: the job cannot be read (it is not JSON); open a job saved by this workbench.`,
  'job-version': ({ file, version, newest }) =>
    `${file}: the job is of version ${version}, newer than the ${newest} known here; update the workbench.`,
  'outline-refused': ({ file, fault }) => outlineRefusal(file, fault),
  'job-invalid': ({ file, where, fault }) =>
    `${file}: the job is not valid at ${where || 'the document'} (${jobFaultWords(fault)}); correct that field.`,
  usage: ({ fault }) => usageSentence(fault),
  'seam-misses': ({ seamId }, names) =>
    `Seam “${names.seam(seamId)}” does not pass through the part it should divide; move it into the figure.`,
  'seam-line-folds': ({ seamId, is, at: place }, names) => {
    const lead = `Seam “${names.seam(seamId)}” divides nothing: its line, seen along its sweep,`;
    if (is === 'flats')
      return `${lead} has flats that overlap or reach beyond its ends, at ${at(place)} first; make them narrower.`;
    const what = is === 'doubled' ? 'has the same point twice' : 'crosses, touches or turns back on itself';
    return `${lead} ${what} at ${at(place)}; move or remove a point there.`;
  },
  'seam-without-contact': ({ seamId, of: [front, back] }, names) =>
    `Seam “${names.seam(seamId)}” joins nothing: “${names.part(front)}” and “${names.part(back)}” do not touch, within ${mm(TOLERANCES.contact)}; choose two bodies that touch, or bring them together where they were made.`,
  'seam-without-overlap': ({ seamId, of: [front, back] }, names) =>
    `Seam “${names.seam(seamId)}” has nothing to nest: “${names.part(front)}” and “${names.part(back)}” do not overlap; leave out which one gives way and the gap, or let one reach into the other where they were made.`,
  'nest-swallowed': ({ seamId, inner, outer }, names) =>
    `Seam “${names.seam(seamId)}” cannot join them: “${names.part(inner)}” lies wholly within “${names.part(outer)}” and could not be put in; divide “${names.part(outer)}” by a seam first, or let it reach out.`,
  'nest-gap-crosses': ({ seamId, gapMm, rimMm, at: place }, names) =>
    `The gap of ${mm(gapMm, 3)} asked at seam “${names.seam(seamId)}” leaves no sound surface near ${at(place)}: a fold or a thin edge there is finer than the gap${rimMm > 0 ? `, which closes within ${mm(rimMm)} of the outer edge` : ''}; ask for a smaller gap${rimMm > 0 ? ', let it close over more' : ''}, or let the other body give way.`,
  'seam-frees-nothing': ({ seamId, chosen, at: place }, names) => {
    const what = chosen === 1 ? 'the outline chosen frees' : `the ${whole(chosen)} outlines chosen free`;
    return `Seam “${names.seam(seamId)}” divides nothing: ${what} no part, which the outline at ${at(place)} still joins; choose that one as well, or move the seam.`;
  },
  'seam-outlines-cross': ({ seamId }, names) =>
    `Seam “${names.seam(seamId)}” cannot divide the outlines chosen alone, for they cross or touch themselves or each other; move it a little, have shells that overlap united (the job’s “mend”), or divide all of its outlines.`,
  'seam-not-mirrored': ({ seamId }, names) =>
    `Seam “${names.seam(seamId)}” joins two bodies where they touch, and its mirror image would join two others; join those where they touch.`,
  'mirror-on-seam': ({ seamId, on }, names) =>
    seamId === on
      ? `Seam “${names.seam(seamId)}” is its own mirror image across that plane; choose another plane, or a seam to one side of it.`
      : `Seam “${names.seam(on)}” is already where the mirror image of “${names.seam(seamId)}” would be; remove that one first, or choose another plane.`,
  'mirror-misses': ({ seamId }, names) =>
    `The mirror image of seam “${names.seam(seamId)}” passes beside the figure; choose another plane, or add that seam by hand.`,
  'seam-part-unknown': ({ seamId, of, dividedBy, parts }, names) => {
    const why =
      dividedBy === null
        ? 'which no earlier seam makes'
        : `which seam “${names.seam(dividedBy)}” has divided already`;
    const there = parts.map(({ id, name }) => {
      const called = names.part(id);
      return called === name ? `“${name}”` : `“${called}” (${name})`;
    });
    return `Seam “${names.seam(seamId)}” is to divide “${names.part(of)}”, ${why}; name a part that is there then: ${there.join(' or ')}.`;
  },
  'seam-order-fixed': ({ seamId, past, why }, names) =>
    `Seam “${names.seam(seamId)}” stays where it is in the order: past seam “${names.seam(past)}”, ${orderReason(why, names)}. Move one of the two on the figure so that their cuts do not meet, or leave the order.`,
  're-skin-too-fine': ({ cellMm, leastCellMm, cells, limit, limitAlong }) => {
    const most = `${count(limit, 'cell')} in all and ${whole(limitAlong)} along a side`;
    return `A new skin with cells of ${mm(cellMm, 3)} would take ${count(cells, 'cell')}, and the most are ${most}; ask for cells of ${mm(Math.ceil(leastCellMm * 1000) / 1000, 3)} or more.`;
  },
  're-skin-empty': ({ cellMm }) =>
    `Nothing of the figure is thick enough for a skin with cells of ${mm(cellMm, 3)}, or it is inside out; ask for smaller cells, or turn it outward first.`,
  'kernel-refused': ({ step, doubt }) =>
    `The solid kernel could not do ${WORK[step]} (${doubtOf(doubt)}); move the seam or the peg a little, or repair the mesh.`,
  'kernel-lost': ({ step }) =>
    `The engine stopped during ${WORK[step]} and was started again; the job is as it was.`,
  'not-loaded': ({ what }) =>
    `${MISSING_CODE[what]} could not be loaded: the connection to where this workbench comes from is lost; connect again, then reload the page. The job is as it was.`,
  'part-unproved': ({ part, doubt }) =>
    `Part “${part}” is not ready to be saved: the solid kernel does not agree that it is sound (${doubtOf(doubt)}); move the seam or the peg a little.`,
  cancelled: () => 'Cancelled.',
  internal: ({ reason }) => `Something failed that should not have (${reason}); the job is as it was.`,
};

/** What two seams would do if they changed places. */
function orderReason(why: OrderFault, names: Names): string {
  const seam = `“${names.seam(why.seamId)}”`;
  switch (why.is) {
    case 'cuts-more':
      return `seam ${seam} would come first and cut “${why.part}” as well`;
    case 'parts-otherwise':
      return `seam ${seam} would come first and not free the same pieces`;
    case 'loses-part':
      return `seam ${seam} would no longer find its part`;
  }
}
