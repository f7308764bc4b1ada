import { parseArgs } from 'node:util';
import { loadKernel } from '../../../src/kernel/load.ts';
import { fuzzJob } from './generate.ts';
import { type Outcome, runJob } from './run-job.ts';
import { tallyTable } from './tally.ts';

/**
 * `npm run fuzz [-- --seed 1 --count 500 --verbose]`: jobs made from seeds, each run through `make` and judged from
 * its files. Every one must be right, or told, or refused; one that fails is named, and the exit code is 1.
 */

const { values } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    count: { type: 'string' },
    verbose: { type: 'boolean', default: false },
  },
});
const first = Number(values.seed);
const count = Number(values.count ?? (process.argv.some((arg) => arg.startsWith('--seed')) ? 1 : 500));

const kernel = await loadKernel();
const outcomes: Outcome[] = [];
for (let seed = first; seed < first + count; seed++) {
  const outcome = await runJob(kernel, fuzzJob(kernel, seed));
  outcomes.push(outcome);
  if (process.stderr.isTTY) process.stderr.write(`\r${outcomes.length} of ${count}`);
  if (outcome.ending === 'failed' || values.verbose || count === 1) tell(outcome);
}
if (process.stderr.isTTY) process.stderr.write('\r');
console.log(tallyTable(outcomes));
process.exitCode = outcomes.some(({ ending }) => ending === 'failed') ? 1 : 0;

function tell({ seed, scenario, ending, details, report }: Outcome): void {
  console.log(`seed ${seed} (${scenario}): ${ending}`);
  for (const detail of details) console.log(`  ${detail}`);
  for (const { severity, code, message } of report?.findings ?? [])
    console.log(`  told: ${severity} ${code}: ${message}`);
}
