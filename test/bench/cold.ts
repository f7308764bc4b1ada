import { readFileSync } from 'node:fs';
import { memorySource } from '../../src/io/bytes/source.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import type { Job } from '../../src/model/job.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { openSculpt } from '../../src/pipeline/sculpt.ts';
import { planeOf } from '../support/plane-of.ts';
import { bytesOf } from './figures.ts';
import { bodiesOfPegs, kernelJoin, kernelOpen, kernelSplit, looseCorners } from './kernel-reference.ts';

/**
 * `cold.ts ours|theirs JOB.json`: prints the ms that a process which has done nothing before takes to open the job's
 * figure, bytes to ready to cut, and then to cut it and set in its pegs; with the engine or with the raw kernel.
 */

const [who, path] = process.argv.slice(2);
const job: Job = JSON.parse(readFileSync(path, 'utf8'));
const bytes = bytesOf(job.sculpt.file);
const kernel = await loadKernel();

async function ours(): Promise<number[]> {
  const start = performance.now();
  const sculpt = await openSculpt(memorySource('figure.stl', bytes), { unit: 'mm', scale: 1 });
  const opened = performance.now();
  const { evaluation } = await createEvaluator(onlyHere(kernel), sculpt).evaluate(job);
  // Measuring gaps and walls is no part of what the kernel does.
  return [opened - start, evaluation.timingsMs.cut + evaluation.timingsMs.joint];
}

function theirs(): number[] {
  const start = performance.now();
  const whole = kernelOpen(kernel, looseCorners(bytes));
  const opened = performance.now();
  const [seam] = job.seams;
  const { normal, offsetMm } = planeOf(seam);
  const [pegs, sockets] = [bodiesOfPegs(kernel, seam, 'add'), bodiesOfPegs(kernel, seam, 'take')];
  const made = performance.now();
  const [front, back] = kernelSplit(whole, normal, offsetMm);
  const [pegged, socketed] = seam.pegOn === 'back' ? [back, front] : [front, back];
  kernelJoin(kernel, socketed, pegged, pegs, sockets);
  return [opened - start, performance.now() - made];
}

const [open, cut] = who === 'ours' ? await ours() : theirs();
console.log(JSON.stringify({ open, cut }));
