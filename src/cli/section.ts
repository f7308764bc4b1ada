import { partOf } from '../mesh/part/part.ts';
import { planeSeam } from '../model/seam-spec.ts';
import { placeOf } from '../pipeline/cut-step.ts';
import { faceOutline } from '../pipeline/face-outline.ts';
import { openSculpt, requireSolid } from '../pipeline/sculpt.ts';
import { readArguments, readDirection, readNumber, readUnit } from './arguments.ts';
import { fileSource } from './file-source.ts';
import { printedOutlines } from './printed-outlines.ts';
import { printJson, stderrProgress } from './terminal.ts';

/** `section FILE --normal x,y,z --offset d`: the outlines of the figure in a plane n·x = d. */
export async function section(args: string[]): Promise<number> {
  const options = {
    normal: { type: 'string' },
    offset: { type: 'string' },
    unit: { type: 'string' },
  } as const;
  const { file, values } = readArguments(args, options, 'mesh');
  const by = planeSeam(readDirection('normal', values.normal), readNumber('offset', values.offset));
  const unit = readUnit(values.unit);
  const sculpt = await openSculpt(await fileSource(file), { unit, scale: 1, onProgress: stderrProgress() });
  requireSolid(sculpt);
  const face = faceOutline(partOf(sculpt.mesh), by, placeOf(sculpt));
  printJson({ areaMm2: face.areaMm2, perimeterMm: face.perimeterMm, outlines: printedOutlines(face) });
  return 0;
}
