import { openSculpt } from '../pipeline/sculpt.ts';
import { readFilesArguments, readUnit } from './arguments.ts';
import { fileSource } from './file-source.ts';
import { exitCodeOf, printedFindings, printJson, stderrProgress } from './terminal.ts';

/** `inspect FILE [FILE…] [--unit mm]`: what files hold together and whether it is a sound solid. */
export async function inspect(args: string[]): Promise<number> {
  const { files, values } = readFilesArguments(args, { unit: { type: 'string' } });
  const unit = readUnit(values.unit);
  const sources = await Promise.all(files.map(fileSource));
  const sculpt = await openSculpt(sources, { unit, scale: 1, onProgress: stderrProgress() });
  printJson({
    format: sculpt.format,
    unit: sculpt.unit,
    declaredUnit: sculpt.declaredUnit,
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
