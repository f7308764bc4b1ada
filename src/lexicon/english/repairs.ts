import type { Repair } from '../../mend/report/repair.ts';
import type { Language } from '../language.ts';
import { count, mm, volume } from './speech.ts';

/** Where defects, and what mending did about them, become English. */

/** What a repair did to shape, as the end of its sentence. */
function shapeChange({ volumeChangeMm3, deviationMm, crossings }: Repair): string {
  if (volumeChangeMm3 === undefined && deviationMm === undefined) return '';
  const grown = volumeChangeMm3 === undefined ? null : `the volume changed by ${volume(volumeChangeMm3)}`;
  const far = deviationMm === undefined ? null : `the surface by at most ${mm(deviationMm, 4)}`;
  const crossed = crossings ? `${count(crossings, 'new triangle')} could not but cross others` : null;
  return `: ${[grown, far, crossed].filter(Boolean).join(', ')}`;
}

const was = (n: number) => (n === 1 ? 'was' : 'were');
const is = (n: number) => (n === 1 ? 'is' : 'are');
const lies = (n: number) => (n === 1 ? 'lies' : 'lie');

export const repairs: Language['repairs'] = {
  'vertices-welded': ({ count: n }) =>
    `${count(n, 'corner')} at the place of another ${was(n)} joined to it.`,
  'rims-joined': (repair) =>
    `${count(repair.count, 'corner')} on rims that almost met ${was(repair.count)} joined to another${shapeChange(repair)}.`,
  'degenerate-dropped': ({ count: n }) => `${count(n, 'triangle')} without area ${was(n)} dropped.`,
  'duplicates-dropped': ({ count: n }) => `${count(n, 'doubled triangle')} ${was(n)} dropped.`,
  'doubled-skin-dropped': ({ count: n }) =>
    `${count(n, 'triangle')} that lay back to back on another ${was(n)} dropped.`,
  'edges-split': ({ count: n }) =>
    `${count(n, 'edge')} on which surfaces touch ${was(n)} made separate for each.`,
  'vertices-split': ({ count: n }) =>
    `${count(n, 'corner')} on which surfaces touch ${was(n)} made separate for each.`,
  'turned-coherent': ({ count: n }) =>
    `${count(n, 'triangle')} that faced against the rest ${was(n)} turned.`,
  'turned-outward': ({ count: n }) =>
    `${count(n, 'triangle')} of shells that were inside out ${was(n)} turned outward.`,
  'holes-filled': (repair) =>
    `${count(repair.count, 'hole')} ${was(repair.count)} filled${shapeChange(repair)}.`,
  'specks-dropped': (repair) =>
    `${count(repair.count, 'small shell')} ${was(repair.count)} dropped${shapeChange(repair)}.`,
  'shells-united': (repair) =>
    `${count(repair.count, 'shell')} ${was(repair.count)} united with the one overlapped${shapeChange(repair)}.`,
  're-skinned': (repair) =>
    `A new skin of ${count(repair.count, 'triangle')} took the place of the old${shapeChange(repair)}.`,
};

export const defects: Language['defects'] = {
  'open-edges': (n) => `${count(n, 'hole')} or open ${n === 1 ? 'rim' : 'rims'} in the surface.`,
  'non-manifold-edges': (n) => `${count(n, 'edge')} ${is(n)} shared by more than two triangles.`,
  'non-manifold-vertices': (n) => `In ${count(n, 'point')} surfaces touch with nothing but a corner.`,
  'winding-errors': (n) => `${count(n, 'edge')} ${lies(n)} between triangles that face opposite ways.`,
  'inside-out-shells': (n) => `${count(n, 'shell')} ${is(n)} inside out.`,
  'doubled-surfaces': (n) => `${count(n, 'triangle')} ${lies(n)} exactly on another.`,
  specks: (n) =>
    `${count(n, 'shell')} ${is(n)} so small that ${n === 1 ? 'it looks' : 'they look'} like dust.`,
  'degenerate-triangles': (n) => `${count(n, 'triangle')} ${n === 1 ? 'has' : 'have'} no area.`,
  'self-intersections': (n) => `${count(n, 'pair')} of triangles cross within a shell.`,
  'nested-shells': (n) => `${count(n, 'shell')} ${is(n)} a hollow inside another.`,
  'overlapping-shells': (n) => `${count(n, 'pair')} of shells overlap; uniting makes one body of them.`,
};
