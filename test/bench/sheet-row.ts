import type { Kernel } from '../../src/kernel/load.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import { partOf } from '../../src/mesh/part/part.ts';
import { sheetSeam } from '../../src/model/swept-seam.ts';
import { placeOf } from '../../src/pipeline/cut-step.ts';
import type { Sculpt } from '../../src/pipeline/sculpt.ts';
import { sheetKind } from '../../src/seam/kinds/sheet.ts';
import { isSound } from '../support/seam-fixture.ts';
import { leftBodyOf } from '../support/sheet-judge.ts';
import { kernelSolid } from './kernel-reference.ts';
import { median, type Row, row } from './row.ts';

/**
 * A sheet of five runs across the middle of a figure, both parts finished, against the kernel's split of the figure's solid by
 * the swept body and its read-out. The solid and the body are there before its clock starts.
 */
export function sheetRow(
  kernel: Kernel,
  sculpt: Sculpt,
  who: { name: string; triangles: number },
  runs: number,
): Row {
  const place = placeOf(sculpt);
  const [mx, my, mz] = place.middle;
  const step = place.longestMm / 24;
  const line = [-8, -3, -1, 1, 3, 8].map(
    (x, i): Vec3 => [mx + x * step, my, mz + [0, 0, 1, 1, -1, -1][i] * step],
  );
  const along: Vec3 = [0, 1, 0];
  const by = sheetSeam(
    line.map((p) => p.map((c, k) => c + sculpt.originMm[k]) as unknown as Vec3),
    along,
  );
  const ours: number[] = [];
  const theirs: number[] = [];
  let closed = true;
  const solid = kernelSolid(kernel, sculpt.mesh);
  const body = leftBodyOf(kernel, line, along, 4 * place.longestMm);
  for (let turn = 0; turn < runs; turn++) {
    const part = partOf(sculpt.mesh);
    const start = performance.now();
    const cut = sheetKind.cut(kernel, [part], by, 'seam', place);
    ours.push(performance.now() - start);
    closed &&= cut.way === 'local' && [cut.front, cut.back].every((one) => isSound(one));
    const begun = performance.now();
    const halves = solid.split(body);
    for (const half of halves) half.getMesh();
    theirs.push(performance.now() - begun);
    for (const half of halves) half.delete();
  }
  solid.delete();
  body.delete();
  return row('a sheet of five runs, both parts', who, median(ours), {
    reference: median(theirs),
    against: 'kernel split by the swept body + read-out',
    // What is asked is of large figures.
    atMost: who.triangles > 500_000 ? 0.15 : null,
    closed,
  });
}
