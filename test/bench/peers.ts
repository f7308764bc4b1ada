import { BufferAttribute, BufferGeometry } from 'three';
import { ADDITION, Brush, Evaluator, INTERSECTION, SUBTRACTION } from 'three-bvh-csg';
import { onlyHere } from '../../src/kernel/kernels.ts';
import type { Kernel } from '../../src/kernel/load.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { meshOf } from '../../src/mesh/part/part.ts';
import { auditMesh, isClosed } from '../../src/mesh/topology/audit.ts';
import { weld } from '../../src/mesh/topology/weld.ts';
import type { Job } from '../../src/model/job.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import type { Sculpt } from '../../src/pipeline/sculpt.ts';
import { planeOf } from '../support/plane-of.ts';
import { bodiesOf, kernelJoin, kernelSolid, kernelSplit } from './kernel-reference.ts';
import { median, type Row, row } from './row.ts';

/** The same first cut with three pegs by others, each with whether its parts are closed after an exact weld. */

const isClosedMesh = (mesh: Mesh): boolean => isClosed(auditMesh(weld(mesh).mesh));

export async function peerRows(
  kernel: Kernel,
  sculpt: Sculpt,
  job: Job,
  name: string,
  runs: number,
): Promise<Row[]> {
  const who = { name, triangles: sculpt.mesh.triangles.length / 3 };
  const { tree } = await createEvaluator(onlyHere(kernel), sculpt).evaluate(job);
  const [{ joints }] = tree.seams;
  const [pegs, sockets] = [bodiesOf(joints, 'add'), bodiesOf(joints, 'take')];
  const mine = await repeated(runs, async () => {
    const evaluated = await createEvaluator(onlyHere(kernel), sculpt).evaluate(job);
    return evaluated.tree.parts.map(({ part }) => meshOf(part));
  });
  const kernels = await repeated(runs, async () => byKernel(kernel, sculpt, job, pegs, sockets));
  const csg = await repeated(Math.min(runs, 5), async () => byCsg(sculpt, job, pegs, sockets));
  const against = 'first cut and pegs, measured and meshes read out';
  return [
    row('peers: this engine', who, mine.ms, { against, closed: mine.closed }),
    row('peers: the raw kernel, solid built', who, kernels.ms, { against, closed: kernels.closed }),
    row('peers: three-bvh-csg', who, csg.ms, { against, closed: csg.closed }),
  ];
}

async function repeated(runs: number, work: () => Promise<Mesh[]>): Promise<{ ms: number; closed: boolean }> {
  let meshes: Mesh[] = [];
  const times: number[] = [];
  for (let turn = 0; turn < runs; turn++) {
    const start = performance.now();
    meshes = await work();
    times.push(performance.now() - start);
  }
  return { ms: median(times), closed: meshes.every(isClosedMesh) };
}

function byKernel(kernel: Kernel, sculpt: Sculpt, job: Job, pegs: Mesh[], sockets: Mesh[]): Mesh[] {
  const [seam] = job.seams;
  const whole = kernelSolid(kernel, sculpt.mesh);
  const tools = [pegs, sockets].map((bodies) => bodies.map((body) => kernelSolid(kernel, body)));
  const [front, back] = kernelSplit(whole, planeOf(seam).normal, planeOf(seam).offsetMm);
  const onBack = seam.pegOn === 'back';
  const meshes = kernelJoin(kernel, onBack ? front : back, onBack ? back : front, tools[0], tools[1]);
  for (const solid of [whole, front, back, ...tools.flat()]) solid.delete();
  return meshes;
}

function byCsg(sculpt: Sculpt, job: Job, pegs: Mesh[], sockets: Mesh[]): Mesh[] {
  const [seam] = job.seams;
  const evaluator = new Evaluator();
  evaluator.attributes = ['position'];
  evaluator.useGroups = false;
  const whole = brushOf(sculpt.mesh);
  const halfSpace = brushOf(boxBehind(sculpt, planeOf(seam).normal, planeOf(seam).offsetMm));
  const cut = (operation: typeof INTERSECTION | typeof SUBTRACTION) =>
    evaluator.evaluate(whole, halfSpace, operation, new Brush());
  const [back, front] = [cut(INTERSECTION), cut(SUBTRACTION)];
  const joinAll = (part: Brush, tools: Mesh[], operation: typeof ADDITION | typeof SUBTRACTION) =>
    tools.reduce((brush, tool) => evaluator.evaluate(brush, brushOf(tool), operation, new Brush()), part);
  const onBack = seam.pegOn === 'back';
  const pegged = joinAll(onBack ? back : front, pegs, ADDITION);
  const socketed = joinAll(onBack ? front : back, sockets, SUBTRACTION);
  return [pegged, socketed].map(meshFrom);
}

function brushOf({ positions, triangles }: Mesh): Brush {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(positions.slice(), 3));
  geometry.setIndex(new BufferAttribute(triangles.slice(), 1));
  const brush = new Brush(geometry);
  brush.updateMatrixWorld();
  return brush;
}

function meshFrom({ geometry }: Brush): Mesh {
  const positions = geometry.getAttribute('position').array as Float32Array;
  const index = geometry.getIndex();
  const count =
    geometry.drawRange.count === Infinity ? (index?.count ?? positions.length / 3) : geometry.drawRange.count;
  const triangles = Uint32Array.from({ length: count }, (_, i) => (index ? index.getX(i) : i));
  return { positions, triangles };
}

/** A box that holds all of the figure behind the plane. */
function boxBehind(
  { boundsMm: { min, max }, originMm }: Sculpt,
  normal: readonly number[],
  offset: number,
): Mesh {
  const n = normal.map((c) => c / Math.hypot(...normal));
  const side = Math.abs(n[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0];
  const cross = (a: readonly number[], b: readonly number[]) => [
    a[1] * b[2] - a[2] * b[1],
    a[2] * b[0] - a[0] * b[2],
    a[0] * b[1] - a[1] * b[0],
  ];
  const raw = cross(n, side);
  const u = raw.map((c) => c / Math.hypot(...raw));
  const v = cross(n, u);
  const reach = Math.hypot(...max.map((high, k) => high - min[k])) * 2;
  const local = offset - n.reduce((sum, c, k) => sum + c * originMm[k], 0);
  const corners: number[] = [];
  for (const depth of [local - reach, local]) {
    for (const [a, b] of [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ]) {
      for (let k = 0; k < 3; k++) corners.push(n[k] * depth + reach * (a * u[k] + b * v[k]));
    }
  }
  const faces = [
    0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7, 0, 1, 5, 0, 5, 4, 1, 2, 6, 1, 6, 5, 2, 3, 7, 2, 7, 6, 3, 0, 4, 3, 4,
    7,
  ];
  return { positions: Float32Array.from(corners), triangles: Uint32Array.from(faces) };
}
