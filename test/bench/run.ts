import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { memorySource } from '../../src/io/bytes/source.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { openSculpt } from '../../src/pipeline/sculpt.ts';
import { threePegJob } from './bench-job.ts';
import { engineRows, type OwnTimes } from './engine-rows.ts';
import { armadillo, type BenchFigure, bytesOf, heron } from './figures.ts';
import { manySeamsJob, manySeamsRows } from './many-seams-rows.ts';
import { pageRows } from './page-rows.ts';
import { peerRows } from './peers.ts';
import { bigMakeRows, bundleScripts, coldRows, serverRow, startRow } from './process-rows.ts';
import { type Row, row, TABLE_HEAD, tableLine } from './row.ts';
import { nestRow, touchingRow } from './touching-rows.ts';

/**
 * `npm run bench [-- --only engine,armadillo,touching,many,peers,cold,big,page --sizes 200000,900000 --runs 5 --json FILE]`:
 * the engine against the raw kernel and others on the same meshes. All of it takes about an hour on two slow
 * cores, most of that the kernel's. What it prints is kept in `MEASURED.md`.
 */

const PARTS = ['engine', 'armadillo', 'touching', 'many', 'peers', 'cold', 'big', 'page'];
const { values } = parseArgs({
  options: {
    only: { type: 'string', default: PARTS.join() },
    sizes: { type: 'string', default: '200000,900000,3500000,7800000' },
    runs: { type: 'string', default: '5' },
    json: { type: 'string' },
  },
});
const runs = Number(values.runs);
const sizes = values.sizes.split(',').map(Number);
const wanted = new Set(values.only.split(','));

/** Past this many triangles the kernel cannot hold the job. */
const KERNEL_TRIANGLES = 4_000_000;
const MAKE_TRIANGLES = 900_000;
const HUGE_TRIANGLES = 12_000_000;

const rows: Row[] = [];
const tell = (...told: readonly Row[]) => {
  for (const one of told) {
    rows.push(one);
    console.log(tableLine(one));
  }
  if (values.json) writeFileSync(values.json, `${JSON.stringify(rows, null, 2)}\n`);
};

console.log(TABLE_HEAD);
const kernel = await loadKernel();

const sculptOf = (figure: BenchFigure) =>
  openSculpt(memorySource('figure.stl', bytesOf(figure.path)), { unit: 'mm', scale: 1 });

async function engine(figures: readonly BenchFigure[]): Promise<void> {
  const own: OwnTimes[] = [];
  for (const [i, figure] of figures.entries()) {
    const got = await engineRows(kernel, figure, runs, sizes[i] <= KERNEL_TRIANGLES);
    tell(...got.rows);
    own.push(got.own);
  }
  if (own.length > 1) tell(...growthRows(figures[0].name, own));
}

/** How times grow with the figure: exponents over all sizes, and the moved peg's from the least to the largest the kernel holds. */
function growthRows(name: string, own: readonly OwnTimes[]): Row[] {
  const [least, most] = [own[0], own[own.length - 1]];
  const span = Math.log(most.triangles / least.triangles);
  const exponents = (['read', 'cut', 'joint'] as const).map((step) =>
    row(
      `growth of ${step}, exponent`,
      { name, triangles: most.triangles },
      Math.log(most[step] / least[step]) / span,
      {
        unit: 'exponent',
        reference: 1,
        atMost: 1.1,
        against: `from ${least.triangles.toLocaleString('en')} triangles`,
      },
    ),
  );
  const held = own.filter(({ triangles }) => triangles <= KERNEL_TRIANGLES).at(-1) ?? least;
  const moved = row(
    'growth of one peg moved',
    { name, triangles: held.triangles },
    held.moved / least.moved,
    {
      unit: 'times',
      reference: 1,
      atMost: 4,
      against: `from ${least.triangles.toLocaleString('en')} triangles`,
    },
  );
  return [...exponents, moved];
}

if (wanted.has('engine')) await engine(sizes.map(heron));
if (wanted.has('armadillo')) {
  const figures = [1, 2, 3].flatMap((times) => armadillo(times) ?? []);
  if (figures.length > 0) await engine(figures);
}
if (wanted.has('touching')) {
  tell(touchingRow(kernel, runs));
  tell(nestRow(kernel, runs));
}
if (wanted.has('many')) {
  const figure = heron(MAKE_TRIANGLES);
  const sculpt = await sculptOf(figure);
  const who = { name: figure.name, triangles: sculpt.mesh.triangles.length / 3 };
  tell(...(await manySeamsRows(kernel, sculpt, who, runs)));
}
if (wanted.has('peers')) {
  const figure = heron(200_000);
  const sculpt = await sculptOf(figure);
  tell(...(await peerRows(kernel, sculpt, threePegJob(), figure.name, runs)));
}
if (wanted.has('cold') || wanted.has('big')) await bundleScripts();
if (wanted.has('cold')) {
  tell(startRow(runs), await serverRow(runs));
  for (const figure of [heron(MAKE_TRIANGLES), armadillo(2)]) if (figure) tell(...coldRows(figure, runs));
}
if (wanted.has('big'))
  tell(...bigMakeRows(heron(7_800_000), 4096), ...bigMakeRows(heron(HUGE_TRIANGLES), null));
if (wanted.has('page')) {
  const figure = heron(MAKE_TRIANGLES);
  const { jobWith } = await manySeamsJob(kernel, await sculptOf(figure));
  tell(...(await pageRows(figure, jobWith(0, 0), runs)));
}
