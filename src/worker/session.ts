import { zipArchive } from '../handoff/archive.ts';
import { fileStem } from '../handoff/part-files.ts';
import { partFiles } from '../handoff/write-parts.ts';
import { blobSource } from '../io/source.ts';
import { loadKernel } from '../kernel/load.ts';
import { plane } from '../math/plane.ts';
import { checkHealth } from '../mend/health.ts';
import { bareName } from '../pipeline/cut-step.ts';
import { createEvaluator, type Evaluator } from '../pipeline/evaluate.ts';
import { solidToProve } from '../pipeline/proof.ts';
import { openSculpt } from '../pipeline/sculpt.ts';
import type { OnProgress } from '../progress.ts';
import type { Reply, Request } from './protocol.ts';
import { createSkinKeys, sculptDisplay, summaryOf, viewOf } from './views.ts';

/** The sculpt on the bench and what is kept of it between requests. One session a worker. */
export interface Session {
  /** @throws PegwrightError, leaving the sculpt that was open before. */
  answer(request: Request, onProgress: OnProgress): Promise<Reply>;
}

export function createSession(): Session {
  const keys = createSkinKeys();
  let evaluator: Evaluator | null = null;

  const ready = (): Evaluator => {
    if (!evaluator) throw new Error('no sculpt is open');
    return evaluator;
  };

  async function open(request: Request & { type: 'open' }, onProgress: OnProgress): Promise<Reply> {
    const { id, file, name, unit, scale, turn, mend } = request;
    const sculpt = await openSculpt(blobSource(name, file), { unit, scale, turn, mend, onProgress });
    evaluator = createEvaluator(await loadKernel(), sculpt);
    return { type: 'opened', id, summary: summaryOf(sculpt), mesh: sculptDisplay(sculpt) };
  }

  function evaluate(
    { id, job, focus, heldSkins }: Request & { type: 'evaluate' },
    onProgress: OnProgress,
  ): Reply {
    const { sculpt } = ready();
    const evaluated = ready().evaluate(job, onProgress);
    return { type: 'evaluated', id, view: viewOf(evaluated, job, focus, sculpt.originMm, keys, heldSkins) };
  }

  function exportParts({ id, job, partId }: Request & { type: 'export' }, onProgress: OnProgress): Reply {
    const { sculpt } = ready();
    const { tree } = ready().evaluate(job, onProgress);
    const figure = bareName(job.sculpt.file);
    const parts = tree.parts.map(({ plain, part }) => ({ name: plain.name, part }));
    const files = partFiles(figure, parts, sculpt.originMm);
    const one = tree.parts.findIndex(({ plain }) => plain.id === partId);
    onProgress('writing', 0);
    if (one >= 0) {
      const chunks = [...files[one].chunks] as BlobPart[];
      return { type: 'exported', id, name: files[one].name, file: new Blob(chunks, { type: 'model/stl' }) };
    }
    const file = new Blob(zipArchive(files), { type: 'application/zip' });
    return { type: 'exported', id, name: `${fileStem(figure)}-parts.zip`, file };
  }

  function solids({ id, job }: Request & { type: 'solids' }, onProgress: OnProgress): Reply {
    const { evaluation, tree } = ready().evaluate(job, onProgress);
    const toProve = tree.parts.map(({ part }, i) => ({
      part: evaluation.parts[i],
      mesh: solidToProve(part),
    }));
    return { type: 'solids', id, solids: toProve };
  }

  return {
    async answer(request, onProgress) {
      switch (request.type) {
        case 'open':
          return open(request, onProgress);
        case 'health':
          return { type: 'examined', id: request.id, health: checkHealth(ready().sculpt.mesh) };
        case 'evaluate':
          return evaluate(request, onProgress);
        case 'outline': {
          const face = ready().outline(request.seamId, plane(request.normal, request.offsetMm));
          return { type: 'outlined', id: request.id, face };
        }
        case 'export':
          return exportParts(request, onProgress);
        case 'solids':
          return solids(request, onProgress);
      }
    },
  };
}
