import { describe, expect, it } from 'vitest';
import { addPeg, addSeam, removePeg, removeSeam, setPeg, setPlane } from '../../../app/state/job-edits.ts';
import { freshJob, middleSeam } from '../../../app/state/new-seam.ts';
import { type Job, PROCESSES, parseJob } from '../../../src/index.ts';

const bounds = { min: [-10, -5, 0], max: [10, 5, 101] } as const;
const job: Job = freshJob({ file: 'figure.stl', unit: 'mm', scale: 1 }, bounds, PROCESSES[0].process);
const only = (j: Job) => j.seams[0];

describe('a fresh job', () => {
  it('has one seam through the middle of the longest axis and one peg the engine places', () => {
    expect(only(job).plane).toEqual({ normal: [0, 0, 1], offsetMm: 50.5 });
    expect(only(job).pegs).toEqual([{ kind: 'taper', at: 'auto' }]);
  });

  it('is a job that can be saved and read back', () => {
    expect(parseJob('job.json', JSON.parse(JSON.stringify(job)))).toEqual(job);
  });

  it('cuts across X where the figure lies along it', () => {
    const lying = freshJob(job.sculpt, { min: [100, 0, 0], max: [300, 20, 30] }, job.process);
    expect(only(lying).plane).toEqual({ normal: [1, 0, 0], offsetMm: 200 });
  });
});

describe('edits', () => {
  it('move placed pegs with their plane, along its normal', () => {
    const placed = setPeg(job, only(job).id, 0, { at: [1, 2, 50.5] });
    const moved = setPlane(placed, only(job).id, { normal: [0, 0, 1], offsetMm: 60 });
    expect(only(moved).pegs[0].at).toEqual([1, 2, 60]);
  });

  it('put placed pegs on a tilted plane', () => {
    const placed = setPeg(job, only(job).id, 0, { at: [3, 0, 50.5] });
    const normal = [0.6, 0, 0.8] as const;
    const [x, y, z] = only(setPlane(placed, only(job).id, { normal, offsetMm: 40 })).pegs[0]
      .at as readonly number[];
    expect(0.6 * x + 0.8 * z).toBeCloseTo(40, 3);
    expect(y).toBe(0);
  });

  it('leave automatic pegs automatic', () => {
    expect(only(setPlane(job, only(job).id, { normal: [0, 0, 1], offsetMm: 3 })).pegs[0].at).toBe('auto');
  });

  it('give a field back to its default without a trace', () => {
    const sized = setPeg(job, only(job).id, 0, { widthMm: 4 });
    expect(only(sized).pegs[0]).toEqual({ kind: 'taper', at: 'auto', widthMm: 4 });
    expect(setPeg(sized, only(job).id, 0, { widthMm: undefined })).toEqual(job);
  });

  it('add and remove a peg', () => {
    const two = addPeg(job, only(job).id, [0, 0, 50.5]);
    expect(only(two).pegs).toHaveLength(2);
    expect(removePeg(two, only(job).id, 1)).toEqual(job);
  });

  it('remove a seam with the seams of its parts, and no others', () => {
    const id = only(job).id;
    const upper = middleSeam(`${id}.front`, bounds, [id], 'upper');
    const deeper = middleSeam(`${upper.id}.back`, bounds, [id, upper.id], 'upper lower');
    const three = addSeam(addSeam(job, upper), deeper);
    expect(new Set(three.seams.map((s) => s.id)).size).toBe(3);
    expect(removeSeam(three, upper.id)).toEqual(job);
    expect(removeSeam(three, id).seams).toEqual([]);
  });

  it('do not touch the job they were given', () => {
    const before = JSON.stringify(job);
    addPeg(job, only(job).id, 'auto');
    setPlane(job, only(job).id, { normal: [1, 0, 0], offsetMm: 0 });
    expect(JSON.stringify(job)).toBe(before);
  });
});
