import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Manifold } from 'manifold-3d';
import { closedBody, makeJoint } from '../../src/joint/joint.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { fromFrame, plane, planeFrame, toFrame } from '../../src/math/plane.ts';
import { pegOf } from '../support/seam-fixture.ts';
import { threePegJob } from './bench-job.ts';
import { kernelOpen, kernelSolid, looseCorners } from './kernel-reference.ts';

/**
 * `bare-make.ts FIGURE.stl DIR`: what `make` is compared with, the plainest script that does the same by the
 * kernel alone: read, merge, construct, split, union of three pegs, difference of three sockets, two STL files.
 */

function stlOf(solid: Manifold): Uint8Array {
  const { vertProperties: p, triVerts: t } = solid.getMesh();
  const bytes = new Uint8Array(84 + (t.length / 3) * 50);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, t.length / 3, true);
  for (let i = 0, at = 84; i < t.length; i += 3, at += 50) {
    for (let k = 0; k < 9; k++) view.setFloat32(at + 12 + k * 4, p[t[i + ((k / 3) | 0)] * 3 + (k % 3)], true);
  }
  return bytes;
}

const [figure, folder] = process.argv.slice(2);
const kernel = await loadKernel();
const whole = kernelOpen(kernel, looseCorners(new Uint8Array(readFileSync(figure))));
const [seam] = threePegJob().seams;
const [front, back] = whole.splitByPlane([...seam.plane.normal], seam.plane.offsetMm);
const seamFrame = planeFrame(plane(seam.plane.normal, seam.plane.offsetMm));
const bodies = (role: 'peg' | 'socket') =>
  seam.pegs.map((peg, pegIndex) => {
    if (peg.at === 'auto') throw new Error('the bench places its pegs itself');
    const foot = fromFrame(seamFrame, toFrame(seamFrame, peg.at));
    const seat = { seamId: seam.id, pegIndex, pegOn: seam.pegOn, seamFrame, foot };
    const sizes = pegOf({ ...peg, at: peg.at } as Parameters<typeof pegOf>[0]);
    return kernelSolid(kernel, closedBody(makeJoint(seat, sizes, role), 1));
  });
const [pegged, socketed] = seam.pegOn === 'back' ? [back, front] : [front, back];
writeFileSync(join(folder, 'pegged.stl'), stlOf(kernel.Manifold.union([pegged, ...bodies('peg')])));
writeFileSync(
  join(folder, 'socketed.stl'),
  stlOf(kernel.Manifold.difference([socketed, ...bodies('socket')])),
);
