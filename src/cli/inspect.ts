import { openSculpt } from '../pipeline/sculpt.ts';
import { readArguments, readUnit } from './arguments.ts';
import { fileSource } from './file-source.ts';
import { exitCodeOf, printedFindings, printJson, stderrProgress } from './terminal.ts';

/** `inspect FILE [--unit mm]`: what a file holds and whether it is a sound solid. */
export async function inspect(args: string[]): Promise<number> {
  const { file, values } = readArguments(args, { unit: { type: 'string' } }, 'FILE');
  const unit = readUnit(values.unit);
  const sculpt = await openSculpt(await fileSource(file), { unit, scale: 1, onProgress: stderrProgress() });
  printJson({
    format: sculpt.format,
    unit: sculpt.unit,
    ...sculpt.read,
    boundsMm: sculpt.boundsMm,
    volumeMm3: sculpt.volumeMm3,
    areaMm2: sculpt.areaMm2,
    solid: sculpt.solid,
    findings: printedFindings(sculpt.findings),
    repairs: sculpt.repairs,
  });
  return exitCodeOf(sculpt.findings);
}
