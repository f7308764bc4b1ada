import { movePlane, plane } from '../math/plane.ts';
import { regionArea, regionPerimeter } from '../math/polygon.ts';
import { add, sub } from '../math/vec3.ts';
import { middleOf } from '../mesh/measure.ts';
import { partOf } from '../mesh/part/part.ts';
import { openSculpt, requireSolid } from '../pipeline/sculpt.ts';
import { planeOutline } from '../seam/plane-outline.ts';
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
  const cutting = plane(readDirection('normal', values.normal), readNumber('offset', values.offset));
  const unit = readUnit(values.unit);
  const sculpt = await openSculpt(await fileSource(file), { unit, scale: 1, onProgress: stderrProgress() });
  requireSolid(sculpt);
  const { originMm, boundsMm } = sculpt;
  const near = sub(middleOf(boundsMm), originMm);
  const { frame, loops } = planeOutline(partOf(sculpt.mesh), movePlane(cutting, originMm), near);
  const placed = { ...frame, origin: add(frame.origin, originMm) };
  printJson({
    areaMm2: regionArea(loops),
    perimeterMm: regionPerimeter(loops),
    outlines: printedOutlines({ frame: placed, outlines: loops }),
  });
  return 0;
}
