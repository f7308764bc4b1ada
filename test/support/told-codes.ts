import type { FindingCode, FindingOf } from '../../src/check/finding.ts';
import { toErrorRecord } from '../../src/errors.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import type { Job } from '../../src/model/job.ts';
import { createEvaluator, type Evaluated } from '../../src/pipeline/evaluate.ts';
import { type OpenOptions, openSculpt } from '../../src/pipeline/sculpt.ts';
import { jobOf, type SeamInput, sculptOf } from './job.ts';
import { asSource } from './mesh-files.ts';

/** Codes that the product tells, for cases of them. */

/** The code of the refusal that work ends in, none where it does not. */
export async function refusalIn(work: () => unknown): Promise<string[]> {
  try {
    await work();
    return [];
  } catch (thrown) {
    return [toErrorRecord(thrown).code];
  }
}

const asIs: OpenOptions = { scale: 1 };

/** What opening a file tells: its findings' codes, or that of the refusal. */
export const openedFile =
  (name: string, bytes: Uint8Array | string, options = asIs) =>
  async () => {
    const found: string[] = [];
    const refused = await refusalIn(async () => {
      const { findings } = await openSculpt(asSource(name, bytes), options);
      found.push(...findings.map(({ code }) => code));
    });
    return [...found, ...refused];
  };

export async function evaluated(figure: Mesh, job: Job): Promise<Evaluated> {
  return createEvaluator(onlyHere(await loadKernel()), await sculptOf(figure)).evaluate(job);
}

/** The codes of an evaluation's findings. */
export const codesOf = ({ evaluation }: Evaluated): FindingCode[] =>
  evaluation.findings.map(({ code }) => code);

/** Its findings of one code. */
export const foundIn = <C extends FindingCode>({ evaluation }: Evaluated, code: C): FindingOf<C>[] =>
  evaluation.findings.filter((one) => one.code === code) as FindingOf<C>[];

/** What a job on a figure tells: its findings' codes, or that of the refusal. */
export const madeOf =
  (figure: Mesh, seams: readonly SeamInput[], process: Partial<Job['process']> = {}) =>
  async () => {
    const found: string[] = [];
    const refused = await refusalIn(async () => {
      found.push(...codesOf(await evaluated(figure, jobOf(seams, process))));
    });
    return [...found, ...refused];
  };
