import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Manifold } from 'manifold-3d';
import { loadKernel } from '../../src/kernel/load.ts';
import type { Job } from '../../src/model/job.ts';
import { planeOf } from '../support/plane-of.ts';
import { bodiesOfPegs, kernelOpen, looseCorners } from './kernel-reference.ts';

/**
 * `bare-make.ts JOB.json DIR`: what `make` is compared with, the plainest script that does the same by the
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

const [path, folder] = process.argv.slice(2);
const job: Job = JSON.parse(readFileSync(path, 'utf8'));
const kernel = await loadKernel();
const whole = kernelOpen(kernel, looseCorners(new Uint8Array(readFileSync(job.sculpt.file))));
const [seam] = job.seams;
const { normal, offsetMm } = planeOf(seam);
const [front, back] = whole.splitByPlane([...normal], offsetMm);
const [pegged, socketed] = seam.pegOn === 'back' ? [back, front] : [front, back];
const [pegs, sockets] = [bodiesOfPegs(kernel, seam, 'add'), bodiesOfPegs(kernel, seam, 'take')];
writeFileSync(join(folder, 'pegged.stl'), stlOf(kernel.Manifold.union([pegged, ...pegs])));
writeFileSync(join(folder, 'socketed.stl'), stlOf(kernel.Manifold.difference([socketed, ...sockets])));
