import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { loadKernel } from '../../../src/kernel/load.ts';
import { fuzzJob, LATER_FROM } from './generate.ts';
import { type Outcome, runJob } from './run-job.ts';
import { tallyTable } from './tally.ts';

/**
 * `npm run fuzz [-- --seed 1 --count 500 --verbose]`: jobs made from seeds, each run through `make` and judged from
 * its files. Every one must be right, or told, or refused; one that fails is named, and the exit code is 1. Without a seed or
 * count those of nested bodies and swept lines are gone through too, and the sweeps follow of which `npm test` goes
 * through the first seeds only (`test/support/sweep.ts`).
 */

const { values } = parseArgs({
  options: {
    seed: { type: 'string' },
    count: { type: 'string' },
    verbose: { type: 'boolean', default: false },
  },
});
const isAll = values.seed === undefined && values.count === undefined;
const first = Number(values.seed ?? 1);
const count = Number(values.count ?? (values.seed === undefined ? 500 : 1));
const seeds = Array.from({ length: count }, (_, i) => first + i);
if (isAll) seeds.push(...Array.from({ length: 100 }, (_, i) => LATER_FROM + i));

const kernel = await loadKernel();
const outcomes: Outcome[] = [];
for (const seed of seeds) {
  const outcome = await runJob(kernel, fuzzJob(kernel, seed));
  outcomes.push(outcome);
  if (process.stderr.isTTY) process.stderr.write(`\r${outcomes.length} of ${seeds.length}`);
  if (outcome.ending === 'failed' || values.verbose || count === 1) tell(outcome);
}
if (process.stderr.isTTY) process.stderr.write('\r');
console.log(tallyTable(outcomes));
const isGood = outcomes.every(({ ending }) => ending !== 'failed');
process.exitCode = isGood && (!isAll || sweepsPass()) ? 0 : 1;

/** Runs every test that sweeps over seeds, through all of them. */
function sweepsPass(): boolean {
  const root = resolve(import.meta.dirname, '../../..');
  const sweeping = readdirSync(join(root, 'test'), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.test.ts'))
    .map((name) => join('test', name))
    .filter((name) => readFileSync(join(root, name), 'utf8').includes('support/sweep.ts'));
  const { status } = spawnSync(join(root, 'node_modules/.bin/vitest'), ['run', ...sweeping], {
    cwd: root,
    stdio: 'inherit',
    env: { ...process.env, PEGWRIGHT_SWEEP: 'whole' },
  });
  return status === 0;
}

function tell({ seed, scenario, ending, details, report }: Outcome): void {
  console.log(`seed ${seed} (${scenario}): ${ending}`);
  for (const detail of details) console.log(`  ${detail}`);
  for (const { severity, code, message } of report?.findings ?? [])
    console.log(`  told: ${severity} ${code}: ${message}`);
}
