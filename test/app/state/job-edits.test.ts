import { describe, expect, it } from 'vitest';
import {
  addJoint,
  addSeam,
  removeJoint,
  removeSeam,
  setFlat,
  setJoint,
  setKind,
  setNesting,
  setOf,
  setPlane,
} from '../../../app/state/job-edits.ts';
import { freshJob, middleSeam } from '../../../app/state/new-seam.ts';
import { contactSeam, heldPlane, type Job, PROCESSES, planeSeam, readJob } from '../../../src/index.ts';

const bounds = { min: [-10, -5, 0], max: [10, 5, 101] } as const;
const job: Job = freshJob({ file: 'figure.stl', unit: 'mm', scale: 1 }, bounds, PROCESSES[0].process);
const only = (j: Job) => j.seams[0];

describe('a fresh job', () => {
  it('has one seam through the middle of the longest axis and one peg the engine places', () => {
    expect(only(job).by).toEqual(planeSeam([0, 0, 1], 50.5));
    expect(only(job).joints).toEqual([{ id: 'a', kind: 'taper', at: 'auto' }]);
  });

  it('is a job that can be saved and read back', () => {
    expect(readJob('job.json', JSON.parse(JSON.stringify(job)))).toEqual(job);
  });

  it('cuts across X where the figure lies along it', () => {
    const lying = freshJob(job.sculpt, { min: [100, 0, 0], max: [300, 20, 30] }, job.process);
    expect(only(lying).by).toEqual(planeSeam([1, 0, 0], 200));
  });
});

describe('edits of a seam whose bodies overlap', () => {
  const joining = addSeam(
    { ...job, seams: [] },
    { ...only(job), by: contactSeam('body:2', 'body:1'), joints: [] },
  );
  const { id } = only(joining);

  it('say how they nest, and leave out what is as usual', () => {
    const nested = setNesting(joining, id, { gives: 'back', gapMm: 0.2 });
    expect(only(nested).by).toEqual({ kind: 'contact', bodies: ['2', '1'], gives: '1', nestGapMm: 0.2 });
    expect(only(setNesting(nested, id, { rimMm: 0 })).by).toMatchObject({ rimMm: 0 });
    expect(only(setNesting(nested, id, { gives: null, gapMm: 0 })).by).toEqual(only(joining).by);
    expect(readJob('job.json', JSON.parse(JSON.stringify(nested)))).toEqual(nested);
  });

  it('set a flat with a joint on it, by which the seam is held and moved from then on', () => {
    const flat = setFlat(joining, id, { normal: [0, 0, 1], offsetMm: 12 }, [1, 2, 11]);
    expect(only(flat).by).toMatchObject({ flat: { at: [1, 2, 12], normal: [0, 0, 1] } });
    expect(only(flat).joints).toEqual([{ id: 'a', kind: 'taper', at: 'auto' }]);
    expect(heldPlane(only(flat).by)).toEqual({ normal: [0, 0, 1], offsetMm: 12 });
    const moved = setPlane(flat, id, { normal: [0, 0, 1], offsetMm: 9 });
    expect(only(moved).by).toMatchObject({ flat: { at: [1, 2, 9] } });
    expect(only(setFlat(moved, id, { normal: [0, 0, 1], offsetMm: 8 }, [0, 0, 0])).joints.length).toBe(1);
  });
});

describe('edits', () => {
  it('move placed pegs with their plane, along its normal', () => {
    const placed = setJoint(job, only(job).id, 'a', { at: [1, 2, 50.5] });
    const moved = setPlane(placed, only(job).id, { normal: [0, 0, 1], offsetMm: 60 });
    expect(only(moved).joints[0].at).toEqual([1, 2, 60]);
  });

  it('put placed pegs on a tilted plane', () => {
    const placed = setJoint(job, only(job).id, 'a', { at: [3, 0, 50.5] });
    const normal = [0.6, 0, 0.8] as const;
    const [x, y, z] = only(setPlane(placed, only(job).id, { normal, offsetMm: 40 })).joints[0]
      .at as readonly number[];
    expect(0.6 * x + 0.8 * z).toBeCloseTo(40, 3);
    expect(y).toBe(0);
  });

  it('leave automatic pegs automatic', () => {
    expect(only(setPlane(job, only(job).id, { normal: [0, 0, 1], offsetMm: 3 })).joints[0].at).toBe('auto');
  });

  it('give a field back to its default without a trace', () => {
    const sized = setJoint(job, only(job).id, 'a', { widthMm: 4 });
    expect(only(sized).joints[0]).toEqual({ id: 'a', kind: 'taper', at: 'auto', widthMm: 4 });
    expect(setJoint(sized, only(job).id, 'a', { widthMm: undefined })).toEqual(job);
  });

  it('add and remove a peg', () => {
    const two = addJoint(job, only(job).id, [0, 0, 50.5]);
    expect(only(two).joints).toHaveLength(2);
    expect(removeJoint(two, only(job).id, 'b')).toEqual(job);
  });

  it('give a joint the first free id, and leave the others theirs', () => {
    const { id } = only(job);
    const three = addJoint(addJoint(job, id, 'auto'), id, [1, 1, 50.5]);
    const ids = (j: Job) => only(j).joints.map((joint) => joint.id);
    expect(ids(three)).toEqual(['a', 'b', 'c']);
    const two = removeJoint(three, id, 'a');
    expect(two.seams[0].joints).toEqual(only(three).joints.slice(1));
    expect(ids(addJoint(two, id, 'auto'))).toEqual(['b', 'c', 'a']);
    expect(only(setJoint(two, id, 'c', { lengthMm: 3 })).joints).toEqual([
      only(three).joints[1],
      { ...only(three).joints[2], lengthMm: 3 },
    ]);
  });

  it('make a joint one of another kind: its width goes over, what the other kind has too stays', () => {
    const { id } = only(job);
    const sizes = { at: [1, 2, 50.5], widthMm: 6, heightMm: 4, lengthMm: 5, spinDeg: 30 } as const;
    const round = setKind(setJoint(job, id, 'a', sizes), id, 'a', 'round');
    expect(only(round).joints).toEqual([
      { id: 'a', kind: 'round', at: [1, 2, 50.5], diameterMm: 6, lengthMm: 5 },
    ]);
    expect(readJob('job.json', JSON.parse(JSON.stringify(round)))).toEqual(round);
    expect(only(setKind(round, id, 'a', 'taper')).joints).toEqual([
      { id: 'a', kind: 'taper', at: [1, 2, 50.5], widthMm: 6, lengthMm: 5 },
    ]);
    expect(only(setKind(job, id, 'a', 'round')).joints).toEqual([{ id: 'a', kind: 'round', at: 'auto' }]);
  });

  it('remove a seam and leave what divides its parts, which can be given another part', () => {
    const id = only(job).id;
    const upper = middleSeam(`${id}.front`, bounds, [id], 'upper');
    const deeper = middleSeam(`${upper.id}.back`, bounds, [id, upper.id], 'upper lower');
    const three = addSeam(addSeam(job, upper), deeper);
    expect(new Set(three.seams.map((s) => s.id)).size).toBe(3);
    expect(removeSeam(three, upper.id).seams).toEqual([job.seams[0], deeper]);
    expect(removeSeam(three, id).seams).toEqual([upper, deeper]);
    expect(setOf(three, upper.id, `${id}.back`).seams).toEqual([
      job.seams[0],
      deeper,
      { ...upper, of: `${id}.back` },
    ]);
    expect(setOf(three, 'none', 'sculpt')).toBe(three);
  });

  it('do not touch the job they were given', () => {
    const before = JSON.stringify(job);
    addJoint(job, only(job).id, 'auto');
    setPlane(job, only(job).id, { normal: [1, 0, 0], offsetMm: 0 });
    expect(JSON.stringify(job)).toBe(before);
  });
});
