import { openFileSet } from '../../src/cli/file-set.ts';
import { make } from '../../src/cli/make.ts';
import type { ErrorCode } from '../../src/errors.ts';
import { readJob } from '../../src/pipeline/read-job.ts';
import { requireSolid } from '../../src/pipeline/sculpt.ts';
import { jobText, makeCliFolder, block as stlBlock } from '../support/cli-folder.ts';
import { lumpySphere } from '../support/figures.ts';
import { sculptOf } from '../support/job.ts';
import { box, fanned, together, torus } from '../support/simple-solids.ts';
import { madeOf, refusalIn } from '../support/told-codes.ts';
import type { CodeCase } from './code-case.ts';

const block = fanned(box([-20, -20, -20], [20, 20, 20]));

/** Work in a folder of its own, which has a block and a job for it. */
async function inFolder<T>(work: (folder: ReturnType<typeof makeCliFolder>) => Promise<T>): Promise<T> {
  const folder = makeCliFolder();
  try {
    folder.put('block.stl', stlBlock());
    return await work(folder);
  } finally {
    folder.remove();
  }
}

const setIn = (out: (path: string) => string, name: string) => () =>
  inFolder(({ path }) => refusalIn(() => openFileSet(out(path), [name], [`${path}/block.stl`])));

/** What `make` refuses of a job's text. */
const madeText =
  (text: string, ...more: string[]) =>
  () =>
    inFolder(async (folder) => {
      const job = folder.put('job.json', text);
      const args = [job, '--out', `${folder.path}/parts`, ...more];
      const codes = await refusalIn(() => quietly(() => make(args)));
      return codes;
    });

/** Without the report on this process's own output. */
async function quietly(work: () => Promise<unknown>): Promise<void> {
  const { write } = process.stdout;
  process.stdout.write = () => true;
  try {
    await work();
  } finally {
    process.stdout.write = write;
  }
}

const parsed = (changes: Record<string, unknown>) => () =>
  refusalIn(() => readJob('job.json', JSON.parse(jobText(changes))));

const opened = (triangles: Uint32Array) => async () => {
  const ball = lumpySphere(3, 20);
  const sculpt = await sculptOf({ ...ball, triangles: triangles.length > 0 ? triangles : ball.triangles });
  return refusalIn(() => requireSolid(sculpt));
};
const all = lumpySphere(3, 20).triangles;

const plate = fanned(box([-20, -20, 18], [20, 20, 20]));

/** A line over a block that goes back over itself to an x below zero, or ends before. */
const foldedTo = (x: number): [number, number, number][] => [
  [0, 0, -9],
  [0, 0, 9],
  [9, 0, 9],
  [x, 0, 0],
];

export const REFUSAL_CASES: CodeCase<ErrorCode>[] = [
  {
    code: 'file-unwritable',
    comes: setIn((path) => `${path}/block.stl/parts`, 'a.stl'),
    stays: setIn((path) => `${path}/parts`, 'a.stl'),
  },
  {
    code: 'file-over-input',
    comes: setIn((path) => path, 'block.stl'),
    stays: setIn((path) => path, 'other.stl'),
  },
  { code: 'mesh-not-closed', comes: opened(all.slice(all.length / 2)), stays: opened(all) },
  {
    code: 'mesh-no-volume',
    comes: opened(Uint32Array.of(...all.slice(0, 3), all[0], all[2], all[1])),
    stays: opened(all),
  },
  { code: 'job-unreadable', comes: madeText('{'), stays: madeText(jobText()) },
  { code: 'job-version', comes: parsed({ version: 99 }), stays: parsed({}) },
  { code: 'job-invalid', comes: parsed({ seams: 'none' }), stays: parsed({ seams: [] }) },
  {
    code: 'usage',
    comes: madeText(jobText(), '--files', 'gif'),
    stays: madeText(jobText(), '--files', 'stl'),
  },
  { code: 'seam-misses', comes: madeOf(block, [{ offsetMm: 21 }]), stays: madeOf(block, [{ offsetMm: 19 }]) },
  {
    code: 'seam-line-folds',
    comes: madeOf(block, [{ line: foldedTo(-9) }]),
    stays: madeOf(block, [{ line: foldedTo(8.9) }]),
  },
  {
    code: 'seam-without-contact',
    comes: madeOf(together(block, fanned(box([-5, -5, 20.2], [5, 5, 30]))), [{ bodies: ['1', '2'] }]),
    stays: madeOf(together(block, fanned(box([-5, -5, 20.02], [5, 5, 30]))), [{ bodies: ['1', '2'] }]),
  },
  {
    code: 'seam-without-overlap',
    comes: madeOf(together(block, post(20)), [{ bodies: ['1', '2'], nest: { nestGapMm: 0.2 } }]),
    stays: madeOf(together(block, post(19)), [{ bodies: ['1', '2'], nest: { nestGapMm: 0.2 } }]),
  },
  {
    code: 'nest-swallowed',
    comes: madeOf(together(block, fanned(box([-5, -5, -5], [5, 5, 5]))), [{ bodies: ['1', '2'] }]),
    stays: madeOf(together(block, fanned(box([-5, -5, -5], [5, 5, 25]))), [{ bodies: ['1', '2'] }]),
  },
  {
    // Under the post half a millimetre of the plate is left.
    code: 'nest-gap-crosses',
    comes: madeOf(together(plate, post(18.5)), [
      { bodies: ['1', '2'], nest: { nestGapMm: 0.7, gives: '1' } },
    ]),
    stays: madeOf(together(plate, post(18.5)), [
      { bodies: ['1', '2'], nest: { nestGapMm: 0.3, gives: '1' } },
    ]),
  },
  {
    code: 'seam-frees-nothing',
    comes: madeOf(torus(20, 5, 24, 12), [{ normal: [1, 0, 0], through: [[0, 20, 0]] }]),
    stays: madeOf(torus(20, 5, 24, 12), [
      {
        normal: [1, 0, 0],
        through: [
          [0, 20, 0],
          [0, -20, 0],
        ],
      },
    ]),
  },
  {
    code: 'seam-outlines-cross',
    comes: madeOf(crossedAndPost(), [{ through: [[0, 0, 0]] }]),
    stays: madeOf(crossedAndPost(), [{ through: [[30, 0, 0]] }]),
  },
  {
    code: 'seam-part-unknown',
    comes: madeOf(block, [{ id: 'a' }, { id: 'b', offsetMm: 4 }]),
    stays: madeOf(block, [{ id: 'a' }, { id: 'b', of: 'a.front', offsetMm: 4 }]),
  },
];

/** A post that stands in the block from this height on. */
function post(bottom: number) {
  return fanned(box([-5, -5, bottom], [5, 5, 40]));
}

/** Two posts that run through each other, and one by itself. */
function crossedAndPost() {
  return together(
    fanned(box([-8, -4, -9], [4, 4, 9])),
    fanned(box([-3, -5, -10], [8, 3, 10])),
    fanned(box([26, -4, -9], [34, 4, 9])),
  );
}
