import { zipArchive } from '../handoff/archive.ts';
import { fileStem } from '../handoff/part-files.ts';
import { partFiles } from '../handoff/write-parts.ts';
import { blobSource } from '../io/bytes/source.ts';
import { PART_FORMATS, type PartFormat } from '../io/writers.ts';
import type { Kernels } from '../kernel/kernels.ts';
import { type Kernel, loadKernel } from '../kernel/load.ts';
import { add, type Vec3 } from '../math/vec3.ts';
import { checkHealth } from '../mend/report/health.ts';
import { estimateReSkin, suggestCellMm } from '../mend/skin/estimate-re-skin.ts';
import type { Mesh } from '../mesh/mesh.ts';
import type { Job } from '../model/job.ts';
import { bareName } from '../model/part-ref.ts';
import { createEvaluator, type Evaluator } from '../pipeline/evaluate.ts';
import { jointMends } from '../pipeline/joint-mends.ts';
import { oneWayMends } from '../pipeline/one-way-mends.ts';
import { solidToProve } from '../pipeline/proof.ts';
import { downOf } from '../pipeline/rest.ts';
import { openSculpt, requireSolid, type Sculpt } from '../pipeline/sculpt.ts';
import { suggestJoints } from '../pipeline/suggest-joints.ts';
import { sculptSymmetry } from '../pipeline/symmetry.ts';
import { touchingBodies } from '../pipeline/touching-bodies.ts';
import { tryMend } from '../pipeline/try-mend.ts';
import type { OnProgress } from '../progress.ts';
import type { Glimpse, Reply, Request } from './protocol.ts';
import { createKeys, displayOf, glimpseOf, liveContours, summaryOf, viewOf } from './views.ts';

/** Shown a figure that is being opened as soon as its places are known. */
export type OnGlimpse = (glimpse: Glimpse) => void;

/** The sculpt on the bench and what is kept of it between requests. One session a worker. */
export interface Session {
  /** @throws PegwrightError, leaving the sculpt that was open before. */
  answer(request: Request, onProgress: OnProgress, onGlimpse?: OnGlimpse): Promise<Reply>;
}

/**
 * A session whose booleans are done where `kernelsBy` has it, given the thread's own instance, and whose parts are handed
 * out in `format`.
 */
export function createSession(
  kernelsBy: (here: Kernel) => Kernels,
  format: PartFormat = PART_FORMATS[0],
): Session {
  const keys = createKeys();
  let sculpt: Sculpt | null = null;
  /** Null while the sculpt is no solid. */
  let evaluator: Evaluator | null = null;

  const onBench = (): Sculpt => {
    if (!sculpt) throw new Error('no sculpt is open');
    return sculpt;
  };
  const ready = (): Evaluator => {
    requireSolid(onBench());
    return evaluator!;
  };

  async function open(
    { id, files, unit, scale, turn, mend }: Request & { type: 'open' },
    onProgress: OnProgress,
    onGlimpse: OnGlimpse,
  ): Promise<Reply> {
    let shown: Mesh | null = null;
    const onPlaces = (mesh: Mesh, originMm: Vec3) => {
      shown = mesh;
      onGlimpse(glimpseOf(mesh, originMm));
    };
    const sources = files.map(({ name, blob }) => blobSource(name, blob));
    const opened = await openSculpt(sources, { unit, scale, turn, mend, onProgress, onPlaces });
    evaluator = opened.solid ? createEvaluator(kernelsBy(await loadKernel()), opened, 'wait') : null;
    sculpt = opened;
    const mesh = opened.mesh === shown ? null : displayOf(opened.mesh);
    return { type: 'opened', id, summary: summaryOf(opened), mesh };
  }

  async function evaluate(
    { id, job, focus, held, isHeld }: Request & { type: 'evaluate' },
    onProgress: OnProgress,
  ): Promise<Reply> {
    const { sculpt } = ready();
    const evaluated = await ready().evaluate(job, onProgress, undefined, isHeld);
    return { type: 'evaluated', id, view: viewOf(evaluated, job, focus, sculpt.originMm, keys, held) };
  }

  /** Works out jobs that are only tried. */
  const trying = (onProgress: OnProgress) => (job: Job) => ready().evaluate(job, onProgress);

  async function exportParts(
    { id, job, partId }: Request & { type: 'export' },
    onProgress: OnProgress,
  ): Promise<Reply> {
    const { sculpt } = ready();
    const { evaluation, tree } = await ready().evaluate(job, onProgress);
    const figure = bareName(job.sculpt.file);
    const parts = tree.parts.map(({ plain, part }) => ({ name: plain.name, part }));
    const one = tree.parts.findIndex(({ plain }) => plain.id === partId);
    // A part that is asked for alone has a file of its own in any format.
    const scope = one >= 0 ? 'part' : format.scope;
    const originMm = add(sculpt.originMm, evaluation.movedMm);
    const files = partFiles({ ...format, scope }, figure, parts, originMm);
    const single = scope === 'assembly' ? files[0] : files[one];
    onProgress('writing', 0);
    if (single) {
      const file = new Blob([...single.chunks] as BlobPart[], { type: format.mediaType });
      return { type: 'exported', id, name: single.name, file };
    }
    const file = new Blob(zipArchive(files), { type: 'application/zip' });
    return { type: 'exported', id, name: `${fileStem(figure)}-parts.zip`, file };
  }

  async function solids({ id, job }: Request & { type: 'solids' }, onProgress: OnProgress): Promise<Reply> {
    const { evaluation, tree } = await ready().evaluate(job, onProgress);
    const toProve = tree.parts.map(({ part }, i) => ({
      part: evaluation.parts[i],
      mesh: solidToProve(part),
    }));
    return { type: 'solids', id, solids: toProve };
  }

  return {
    async answer(request, onProgress, onGlimpse = () => {}) {
      const { id } = request;
      switch (request.type) {
        case 'open':
          return open(request, onProgress, onGlimpse);
        case 'health':
          onProgress('examining', 0);
          return { type: 'examined', id, health: checkHealth(onBench().mesh) };
        case 'try-mend':
          return { type: 'tried', id, trial: await tryMend(onBench(), request.mend, onProgress) };
        case 'estimate': {
          const { mesh } = onBench();
          const cellMm = request.cellMm ?? suggestCellMm(mesh);
          return { type: 'estimated', id, estimate: { cellMm, ...estimateReSkin(mesh, cellMm) } };
        }
        case 'rest':
          return { type: 'rested', id, down: downOf(await loadKernel(), onBench()) };
        case 'touching':
          return { type: 'touched', id, pairs: touchingBodies(await loadKernel(), onBench()) };
        case 'narrowest': {
          const { seamId, by, click } = request;
          return { type: 'fitted', id, fit: ready().narrowest(seamId, by, click) };
        }
        case 'square':
          return { type: 'fitted', id, fit: ready().squared(request.seamId, request.by) };
        case 'symmetry':
          return { type: 'symmetry', id, symmetry: sculptSymmetry(onBench(), request.across) };
        case 'mirror': {
          const { job, seamId, across } = request;
          return { type: 'mirrored', id, image: ready().mirrored(job, seamId, across) };
        }
        case 'reorder': {
          const { job, seamId, step } = request;
          return { type: 'reordered', id, reordering: ready().reorder(job, seamId, step) };
        }
        case 'joint-mends': {
          const { job, seamId, jointId } = request;
          return {
            type: 'joint-mended',
            id,
            mends: await jointMends(trying(onProgress), job, seamId, jointId),
          };
        }
        case 'suggest-joints': {
          const { job, seamId, count } = request;
          const suggested = await suggestJoints(trying(onProgress), job, seamId, count, onBench().originMm);
          return { type: 'suggested', id, suggested };
        }
        case 'one-way-mends': {
          const { job, seamId } = request;
          return { type: 'one-way-mended', id, mends: await oneWayMends(trying(onProgress), job, seamId) };
        }
        case 'evaluate':
          return evaluate(request, onProgress);
        case 'outline': {
          const { seamId, from, minWallMm } = request;
          const by = from ? ready().follow(seamId, from, request.by) : request.by;
          const faces = ready()
            .outline(seamId, by ?? request.by)
            // Where one has ended nothing is cut, not whatever lies nearest.
            .map((face) => (by ? face : { ...face, outlines: [], uncut: [...face.outlines, ...face.uncut] }))
            .map((face) => ({ ...face, contours: liveContours(face, minWallMm) }));
          return { type: 'outlined', id, live: { by, faces } };
        }
        case 'export':
          return exportParts(request, onProgress);
        case 'solids':
          return solids(request, onProgress);
      }
    },
  };
}
