import type { Defect } from '../mend/report/health.ts';
import type { Repair } from '../mend/report/repair.ts';
import { count, mm, volume } from './words.ts';

/** Where defects, and what mending did about them, become English. */

/** What a repair did to shape, as the end of its sentence. */
function shapeChange({ volumeChangeMm3, deviationMm, crossings }: Repair): string {
  if (volumeChangeMm3 === undefined && deviationMm === undefined) return '';
  const grown = volumeChangeMm3 === undefined ? null : `the volume changed by ${volume(volumeChangeMm3)}`;
  const far = deviationMm === undefined ? null : `the surface by at most ${mm(deviationMm, 4)}`;
  const crossed = crossings ? `${count(crossings, 'new triangle')} could not but cross others` : null;
  return `: ${[grown, far, crossed].filter(Boolean).join(', ')}`;
}

/** One sentence for a change made by mending. */
export function repairSentence(repair: Repair): string {
  const n = repair.count;
  const was = n === 1 ? 'was' : 'were';
  const change = shapeChange(repair);
  switch (repair.code) {
    case 'vertices-welded':
      return `${count(n, 'corner')} at the place of another ${was} joined to it.`;
    case 'rims-joined':
      return `${count(n, 'corner')} on rims that almost met ${was} joined to another${change}.`;
    case 'degenerate-dropped':
      return `${count(n, 'triangle')} without area ${was} dropped.`;
    case 'duplicates-dropped':
      return `${count(n, 'doubled triangle')} ${was} dropped.`;
    case 'doubled-skin-dropped':
      return `${count(n, 'triangle')} that lay back to back on another ${was} dropped.`;
    case 'edges-split':
      return `${count(n, 'edge')} on which surfaces touch ${was} made separate for each.`;
    case 'vertices-split':
      return `${count(n, 'corner')} on which surfaces touch ${was} made separate for each.`;
    case 'turned-coherent':
      return `${count(n, 'triangle')} that faced against the rest ${was} turned.`;
    case 'turned-outward':
      return `${count(n, 'triangle')} of shells that were inside out ${was} turned outward.`;
    case 'holes-filled':
      return `${count(n, 'hole')} ${was} filled${change}.`;
    case 'specks-dropped':
      return `${count(n, 'small shell')} ${was} dropped${change}.`;
    case 'shells-united':
      return `${count(n, 'shell')} ${was} united with the one overlapped${change}.`;
    case 're-skinned':
      return `A new skin of ${count(n, 'triangle')} took the place of the old${change}.`;
  }
}

/** One sentence for a kind of defect found in a figure's health. */
export function defectSentence({ kind, count: n }: Defect): string {
  const [is, has] = n === 1 ? ['is', 'has'] : ['are', 'have'];
  switch (kind) {
    case 'open-edges':
      return `${count(n, 'hole')} or open ${n === 1 ? 'rim' : 'rims'} in the surface.`;
    case 'non-manifold-edges':
      return `${count(n, 'edge')} ${is} shared by more than two triangles.`;
    case 'non-manifold-vertices':
      return `In ${count(n, 'point')} surfaces touch with nothing but a corner.`;
    case 'winding-errors':
      return `${count(n, 'edge')} ${n === 1 ? 'lies' : 'lie'} between triangles that face opposite ways.`;
    case 'inside-out-shells':
      return `${count(n, 'shell')} ${is} inside out.`;
    case 'doubled-surfaces':
      return `${count(n, 'triangle')} ${n === 1 ? 'lies' : 'lie'} exactly on another.`;
    case 'specks':
      return `${count(n, 'shell')} ${is} so small that ${n === 1 ? 'it looks' : 'they look'} like dust.`;
    case 'degenerate-triangles':
      return `${count(n, 'triangle')} ${has} no area.`;
    case 'self-intersections':
      return `${count(n, 'pair')} of triangles cross within a shell.`;
    case 'nested-shells':
      return `${count(n, 'shell')} ${is} a hollow inside another.`;
    case 'overlapping-shells':
      return `${count(n, 'pair')} of shells overlap; uniting makes one body of them.`;
  }
}
