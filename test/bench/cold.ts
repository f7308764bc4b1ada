import { memorySource } from '../../src/io/bytes/source.ts';
import { closedBody } from '../../src/joint/joint.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { cutStep, wholePart } from '../../src/pipeline/cut-step.ts';
import { jointStep } from '../../src/pipeline/joint-step.ts';
import { openSculpt } from '../../src/pipeline/sculpt.ts';
import { threePegJob } from './bench-job.ts';
import { bytesOf } from './figures.ts';
import { kernelJoin, kernelSolid, kernelSplit } from './kernel-reference.ts';

/** `cold.ts FIGURE.stl`: prints the ms of this process's very first cut with three pegs, and of the kernel's after it. */

const silent = () => {};
const kernel = await loadKernel();
const sculpt = await openSculpt(memorySource('figure.stl', bytesOf(process.argv[2])), {
  unit: 'mm',
  scale: 1,
});
const job = threePegJob();
const start = performance.now();
const cut = cutStep(kernel, job, sculpt, wholePart(sculpt), new Map(), silent);
const { seams } = await jointStep(onlyHere(kernel), job, cut, sculpt.originMm, new Map(), silent);
const ours = performance.now() - start;

const whole = kernelSolid(kernel, sculpt.mesh);
const bodies = (role: 'pegJoint' | 'socketJoint') =>
  seams[0].pegs.map((peg) => kernelSolid(kernel, closedBody(peg[role], 1)));
const [pegs, sockets] = [bodies('pegJoint'), bodies('socketJoint')];
const { normal, offsetMm } = job.seams[0].plane;
const again = performance.now();
const [front, back] = kernelSplit(whole, normal, offsetMm);
kernelJoin(kernel, front, back, pegs, sockets);
console.log(JSON.stringify({ ours, theirs: performance.now() - again }));
