import { describe, expect, it } from 'vitest';
import { setPlane, setSeam } from '../../../app/state/job-edits.ts';
import { freshJob, middleSeam } from '../../../app/state/new-seam.ts';
import { turnFigure } from '../../../app/state/sculpt-edits.ts';
import { followNames, sideNames } from '../../../app/state/side-names.ts';
import { type Job, PROCESSES, type Quaternion, turnBetween } from '../../../src/index.ts';

const sculpt = { file: 'figure.stl', unit: 'mm', scale: 1 } as const;
const lying: Job = freshJob(sculpt, { min: [0, 0, 0], max: [9, 40, 9] }, PROCESSES[0]!.process);
const { id } = lying.seams[0]!;
const standUp: Quaternion = turnBetween([0, -1, 0], [0, 0, -1]);
const edited = (job: Job, change: (job: Job) => Job) => followNames(job, change(job));
const namesOf = (job: Job) => job.seams.map(({ names: { front, back } }) => [front, back]);

describe('names proposed for the parts of a seam', () => {
  it('go by the axis the seam is squarest to and the way its normal points', () => {
    expect(sideNames([0, 0, 1], '')).toEqual({ front: 'upper', back: 'lower' });
    expect(sideNames([0.1, -0.3, -2], '')).toEqual({ front: 'lower', back: 'upper' });
    expect(sideNames([-1, 0, 0], '')).toEqual({ front: 'left', back: 'right' });
    expect(sideNames([0.4, 0.9, 0.2], 'wing')).toEqual({ front: 'wing rear', back: 'wing front' });
  });

  it('tell height first where a seam is as square to one axis as to another', () => {
    expect(sideNames([Math.SQRT1_2, 0, Math.SQRT1_2], '')).toEqual({ front: 'upper', back: 'lower' });
  });

  it('follow when the figure is stood up', () => {
    expect(namesOf(lying)).toEqual([['rear', 'front']]);
    expect(namesOf(edited(lying, (job) => turnFigure(job, standUp)))).toEqual([['upper', 'lower']]);
  });

  it('follow when the seam is turned', () => {
    const turned = edited(lying, (job) => setPlane(job, id, { normal: [-1, 0, 0], offsetMm: -4 }));
    expect(namesOf(turned)).toEqual([['left', 'right']]);
  });

  it('stay where a person typed them, each by itself', () => {
    const typed = edited(lying, (job) => setSeam(job, id, { names: { front: 'head', back: 'front' } }));
    expect(namesOf(edited(typed, (job) => turnFigure(job, standUp)))).toEqual([['head', 'lower']]);
  });

  it('follow what the part that is divided is called', () => {
    const inner = middleSeam(`${id}.front`, { min: [0, 0, 0], max: [9, 1, 1] }, [id], 'rear');
    const job = { ...lying, seams: [...lying.seams, inner] };
    const named = edited(job, (j) => setSeam(j, id, { names: { front: 'wing', back: 'front' } }));
    expect(namesOf(named)).toEqual([
      ['wing', 'front'],
      ['wing right', 'wing left'],
    ]);
    expect(namesOf(edited(job, (j) => turnFigure(j, standUp)))[1]).toEqual(['upper right', 'upper left']);
  });

  it('leave a job as it is where none changes', () => {
    expect(followNames(lying, lying)).toBe(lying);
  });
});
