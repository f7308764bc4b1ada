import type { ErrorRecord } from '../errors.ts';
import { numeral } from '../math/numeral.ts';
import { AS_WRITTEN, at, count, mm, type Names, whole } from './words.ts';

/** Where refusals become English: what is wrong, where, what to do. A sentence about a file begins with its name and a colon. */

const gigabytes = (bytes: number): string => `${numeral(bytes / 1e9, 1)} GB`;

const MANY = { bodies: 'bodies', files: 'packed files', levels: 'levels of nesting' } as const;

const MISSING_CODE = {
  engine: 'The engine',
  kernel: 'The solid kernel',
  step: 'What this step needs',
} as const;

/** One sentence for a refusal. */
export function sentenceOf(error: ErrorRecord, names: Names = AS_WRITTEN): string {
  switch (error.code) {
    case 'file-empty':
      return `${error.facts.file}: the file is empty; export it again and open the new copy.`;
    case 'file-unreadable':
      return `${error.facts.file}: the file cannot be read (${error.facts.reason}); ${error.facts.advice ?? 'check its name and that you may open it'}.`;
    case 'file-unwritable':
      return `${error.facts.file}: cannot be written (${error.facts.reason}); ${error.facts.advice}.`;
    case 'file-over-input':
      return `${error.facts.file}: this would be written over ${error.facts.input}, which the parts are made from; choose another folder.`;
    case 'format-unknown': {
      const { file, looksLike } = error.facts;
      const what = looksLike ? `this is ${looksLike}, not a mesh` : 'no mesh format is recognised in it';
      return `${file}: ${what}; open an STL, OBJ, PLY, OFF, 3MF, glTF or GLB file.`;
    }
    case 'file-truncated': {
      const { file, promised, found, unit } = error.facts;
      return `${file}: the file ends early, it promises ${whole(promised)} ${unit} and holds ${whole(found)}; copy or export it again.`;
    }
    case 'file-malformed': {
      const { file, format, line, reason } = error.facts;
      const where = line === undefined ? '' : ` in line ${whole(line)}`;
      return `${file}: not a sound ${format} file, ${reason}${where}; export it again.`;
    }
    case 'file-no-triangles':
      return `${error.facts.file}: the file holds no triangles; export the figure as a mesh.`;
    case 'file-feature-unknown': {
      const { file, format, feature } = error.facts;
      return `${file}: this ${format} file needs ${feature}, which cannot be read here; export it again without that.`;
    }
    case 'file-beside-missing': {
      const { file, needs } = error.facts;
      return `${file}: its mesh lies in another file, “${needs}”, which was not given; open both together.`;
    }
    case 'file-unpacks-too-big': {
      const { file, bytes, limit } = error.facts;
      return `${file}: it unpacks to ${gigabytes(bytes)} or more, past the limit of ${gigabytes(limit)}; reduce the figure or split it before opening.`;
    }
    case 'file-too-many': {
      const { file, what, limit } = error.facts;
      return `${file}: it has more than the ${whole(limit)} ${MANY[what]} a file may have; export the figure alone.`;
    }
    case 'file-too-big': {
      const { file, triangles, limit } = error.facts;
      return `${file}: ${count(triangles, 'triangle')} are more than the ${whole(limit)} one figure may have; reduce it or split it before opening.`;
    }
    case 'out-of-memory':
      return `${error.facts.file}: the figure does not fit into memory here; close other pages or programs, or reduce the figure.`;
    case 'coordinates-not-finite':
      return `${error.facts.file}: ${count(error.facts.count, 'coordinate')} cannot be a place in space (not a number, infinite or absurdly far); repair the mesh where it was made.`;
    case 'mesh-not-closed': {
      const { file, openEdges, nonManifoldEdges, windingErrors } = error.facts;
      const faults = [
        openEdges > 0 && count(openEdges, 'open edge'),
        nonManifoldEdges > 0 && `${count(nonManifoldEdges, 'edge')} shared by more than two triangles`,
        windingErrors > 0 && `${count(windingErrors, 'edge')} between triangles that face opposite ways`,
      ].filter(Boolean);
      return `${file}: the mesh is not closed, it has ${faults.join(', ')}, the first near ${at(error.facts.at)}; have it mended (the job's “mend”), or close it where it was made.`;
    }
    case 'mesh-no-volume':
      return `${error.facts.file}: the mesh encloses no volume; give the surface a thickness before opening it.`;
    case 'job-unreadable':
      return `${error.facts.file}: the job cannot be read (${error.facts.reason}); open a job saved by this workbench.`;
    case 'job-version':
      return `${error.facts.file}: the job is of version ${error.facts.version}, newer than the ${error.facts.newest} known here; update the workbench.`;
    case 'job-invalid':
      return `${error.facts.file}: the job is not valid at ${error.facts.where} (${error.facts.reason}); correct that field.`;
    case 'usage':
      return error.facts.reason;
    case 'seam-misses':
      return `Seam “${names.seam(error.facts.seamId)}” does not pass through the part it should divide; move it into the figure.`;
    case 'seam-bounded': {
      const { seamId, outlines, chosen } = error.facts;
      return `Seam “${names.seam(seamId)}” meets the figure in ${outlines} outlines and should divide ${chosen} of them only, which cannot be done yet; name a point on each, or leave “through” out to divide all.`;
    }
    case 'seam-part-unknown': {
      const { seamId, of, dividedBy, parts } = error.facts;
      const why =
        dividedBy === null
          ? 'which no earlier seam makes'
          : `which seam “${names.seam(dividedBy)}” has divided already`;
      const there = parts.map(({ id, name }) => {
        const called = names.part(id);
        return called === name ? `“${name}”` : `“${called}” (${name})`;
      });
      return `Seam “${names.seam(seamId)}” is to divide “${names.part(of)}”, ${why}; name a part that is there then: ${there.join(' or ')}.`;
    }
    case 're-skin-too-fine': {
      const { cellMm, leastCellMm, cells, limit, limitAlong } = error.facts;
      const most = `${count(limit, 'cell')} in all and ${whole(limitAlong)} along a side`;
      return `A new skin with cells of ${mm(cellMm, 3)} would take ${count(cells, 'cell')}, and the most are ${most}; ask for cells of ${mm(Math.ceil(leastCellMm * 1000) / 1000, 3)} or more.`;
    }
    case 're-skin-empty':
      return `Nothing of the figure is thick enough for a skin with cells of ${mm(error.facts.cellMm, 3)}, or it is inside out; ask for smaller cells, or turn it outward first.`;
    case 'kernel-refused':
      return `The solid kernel could not do the ${error.facts.step} (${error.facts.reason}); move the seam or the peg a little, or repair the mesh.`;
    case 'kernel-lost':
      return `The engine stopped during ${error.facts.step} and was started again; the job is as it was.`;
    case 'not-loaded':
      return `${MISSING_CODE[error.facts.what]} could not be loaded: the connection to where this workbench comes from is lost; connect again, then reload the page. The job is as it was.`;
    case 'part-unproved':
      return `Part “${error.facts.part}” is not ready to be saved: the solid kernel does not agree that it is sound (${error.facts.reason}); move the seam or the peg a little.`;
    case 'cancelled':
      return 'Cancelled.';
    case 'internal':
      return `Something failed that should not have (${error.facts.reason}); the job is as it was.`;
  }
}
