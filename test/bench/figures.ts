import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildHeron } from '../../src/demo/heron.ts';
import { subdivide } from '../../src/demo/subdivide.ts';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import type { Kernel } from '../../src/kernel/load.ts';
import { weld } from '../../src/mesh/topology/weld.ts';
import type { Job } from '../../src/model/job.ts';
import type { AskedJoint } from '../../src/model/joint.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import type { Sculpt } from '../../src/pipeline/sculpt.ts';
import { obtainArmadillo, offSoup } from '../support/armadillo.ts';
import { jobOf, type PegInput } from '../support/job.ts';
import { threePegJob } from './bench-job.ts';
import { looseCorners } from './kernel-reference.ts';

/** Figures are made once and kept here. */
const cache = join(tmpdir(), 'pegwright-bench');

/** A figure to measure on: a binary STL on disk, and a job of three pegs with the first moved by some mm. */
export interface BenchFigure {
  name: string;
  path: string;
  jobFor(kernel: Kernel, sculpt: Sculpt): Promise<(shift: number) => Job>;
  /** The same cut with three pegs that are still to be placed. */
  autoJob(): Job;
}

export const bytesOf = (path: string): Uint8Array => new Uint8Array(readFileSync(path));

/** The demo figure at about that many triangles; made on first use. */
export function heron(triangles: number): BenchFigure {
  const path = join(cache, `heron-${triangles}.stl`);
  if (!existsSync(path)) {
    mkdirSync(cache, { recursive: true });
    writeFileSync(path, writeStlBinary(buildHeron({ triangles }), [0, 0, 0]));
  }
  return { name: 'heron', path, jobFor: async () => threePegJob, autoJob: unplaced };
}

/** The scanned armadillo, 200 mm high, every triangle divided into four `times` over; null where the package cannot be had. */
export function armadillo(times: number): BenchFigure | null {
  const path = join(cache, `armadillo-${times}.stl`);
  if (!existsSync(path)) {
    const got = obtainArmadillo();
    if ('missing' in got) {
      console.error(`no armadillo: ${got.missing}`);
      return null;
    }
    const positions = offSoup(got.off, 200);
    const { mesh } = weld({
      positions,
      triangles: Uint32Array.from({ length: positions.length / 3 }, (_, i) => i),
    });
    let fine: ReturnType<typeof subdivide> = {
      positions: Float64Array.from(mesh.positions),
      triangles: mesh.triangles,
    };
    for (let i = 0; i < times; i++) fine = subdivide(fine);
    mkdirSync(cache, { recursive: true });
    writeFileSync(path, writeStlBinary({ ...fine, positions: Float32Array.from(fine.positions) }, [0, 0, 0]));
  }
  return { name: 'armadillo', path, jobFor: middleJob, autoJob: () => autoAcross(middleOf(path)) };
}

const AUTO: PegInput = { kind: 'taper', at: 'auto', widthMm: 6, heightMm: 6, lengthMm: 6 };

/** The demo's seam with three pegs that are to be placed. */
function unplaced(): Job {
  const job = threePegJob();
  return {
    ...job,
    seams: job.seams.map((seam) => ({
      ...seam,
      joints: ['a', 'b', 'c'].map((id) => ({ ...AUTO, id }) as AskedJoint),
    })),
  };
}

/** A level cut (y up) with three pegs that are to be placed. */
const autoAcross = (offsetMm: number): Job =>
  jobOf([{ normal: [0, 1, 0], offsetMm, pegs: [AUTO, AUTO, AUTO] }]);

/** The middle of a figure's height (y up), mm. */
function middleOf(path: string): number {
  const corners = looseCorners(bytesOf(path));
  let [low, high] = [Infinity, -Infinity];
  for (let i = 1; i < corners.length; i += 3) {
    low = Math.min(low, corners[i]);
    high = Math.max(high, corners[i]);
  }
  return (low + high) / 2;
}

/** A level cut (y up) through the middle, three pegs where and as large as the engine would have them. */
async function middleJob(kernel: Kernel, sculpt: Sculpt): Promise<(shift: number) => Job> {
  const { min, max } = sculpt.boundsMm;
  const seam = { normal: [0, 1, 0] as const, offsetMm: (min[1] + max[1]) / 2 };
  const { evaluation } = await createEvaluator(onlyHere(kernel), sculpt).evaluate(autoAcross(seam.offsetMm));
  const places = evaluation.seams[0].joints.map(({ settled }) => settled.at);
  return (shift) =>
    jobOf([
      {
        ...seam,
        pegs: places.map(
          (at, i): PegInput => ({ ...AUTO, at: i === 0 ? [at[0] + shift, at[1], at[2]] : at }),
        ),
      },
    ]);
}
