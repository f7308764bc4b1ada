import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { loadKernel } from '../../src/kernel/load.ts';
import { type Row, rowsFor } from './rows.ts';
import { bytesOf, heronStl } from './sculpts.ts';

/** `npm run bench [-- --sizes 200000,900000 --runs 5 --json FILE]`: the engine against the raw kernel, in one process. */

const { values } = parseArgs({
  options: {
    sizes: { type: 'string', default: '200000,900000' },
    runs: { type: 'string', default: '5' },
    json: { type: 'string' },
  },
});

const ms = (value: number) => value.toFixed(value < 10 ? 2 : 0);
const line = (row: Row) =>
  `| ${row.what} | ${row.triangles.toLocaleString('en')} | ${ms(row.oursMs)} | ${ms(row.referenceMs)} | ${row.ratio.toFixed(3)} | ${row.reference} |`;

const kernel = await loadKernel();
const rows: Row[] = [];
console.log('| what | triangles | ours, ms | reference, ms | ratio | reference |');
console.log('|---|---|---|---|---|---|');
for (const size of values.sizes.split(',').map(Number)) {
  for (const row of await rowsFor(kernel, bytesOf(heronStl(size)), Number(values.runs))) {
    rows.push(row);
    console.log(line(row));
  }
}
if (values.json) writeFileSync(values.json, `${JSON.stringify(rows, null, 2)}\n`);
