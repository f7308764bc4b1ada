import { describe, expect, it } from 'vitest';
import type { Job } from '../../src/model/job.ts';
import { readJob } from '../../src/pipeline/read-job.ts';

type Json = Record<string, unknown>;

const plane = { normal: [0, 0, 1], offsetMm: 12 };
const pegs = [
  { kind: 'taper', at: [1, 2, 12], widthMm: 6, heightMm: 5, lengthMm: 7, draftDeg: 4 },
  { kind: 'taper', at: 'auto', spinDeg: 30, sideGapMm: 0.2 },
];
const names = { front: 'head', back: 'body' };

/** A document of version 1 with one seam, which `seam` changes. */
const version1 = (seam: Json = {}, job: Json = {}): Json => ({
  format: 'pegwright-job',
  version: 1,
  sculpt: { file: 'figure.stl', unit: 'mm', scale: 2 },
  process: { name: 'resin', sideGapMm: 0.12, endGapMm: 0.4, minWallMm: 1.2, bedMm: [140, 85, 170] },
  seams: [{ id: 'neck', plane, names, pegs, ...seam }],
  ...job,
});
const read = (json: unknown): Job => readJob('job.json', JSON.parse(JSON.stringify(json)));
const only = (json: unknown) => read(json).seams[0];

describe('a job of version 1', () => {
  it('is read as one of version 2 that says the same', () => {
    expect(read(version1({ of: 'sculpt', pegOn: 'front' }))).toEqual({
      ...version1(),
      version: 2,
      seams: [
        {
          id: 'neck',
          of: 'sculpt',
          by: { kind: 'plane', ...plane },
          pegOn: 'front',
          names,
          joints: [
            { id: 'a', ...pegs[0] },
            { id: 'b', ...pegs[1] },
          ],
        },
      ],
    });
  });

  it('has what it leaves out as before', () => {
    expect(only(version1({ pegs: undefined }))).toMatchObject({ of: 'sculpt', pegOn: 'back', joints: [] });
    expect(read(version1({}, { seams: [] })).seams).toEqual([]);
  });

  it('has each peg of a seam by an id of its own, in their order', () => {
    const many = Array.from({ length: 28 }, () => pegs[1]);
    const ids = only(version1({ pegs: many })).joints.map(({ id }) => id);
    expect(ids.slice(0, 3)).toEqual(['a', 'b', 'c']);
    expect(ids.slice(25)).toEqual(['z', 'aa', 'ab']);
    const two = version1({}, { seams: [version1(), version1({ id: 'beak' })].flatMap(({ seams }) => seams) });
    expect(read(two).seams.map(({ joints }) => joints.map(({ id }) => id))).toEqual([
      ['a', 'b'],
      ['a', 'b'],
    ]);
  });

  it('goes on dividing only the outlines it was to', () => {
    const through = [
      [1, 2, 12],
      [9, 2, 12],
    ];
    expect(only(version1({ through })).by).toEqual({ kind: 'plane', ...plane, through });
  });

  it.each([
    ['seams.0.plane', { plane: undefined }],
    ['seams.0.plane', { plane: 'level' }],
    ['seams.0.plane', { plane: { ...plane, tilt: 3 } }],
    ['seams.0.plane.normal', { plane: { normal: [0, 0, 0], offsetMm: 1 } }],
    ['seams.0.plane.normal.1', { plane: { normal: [0, 'up', 0], offsetMm: 1 } }],
    ['seams.0.plane.offsetMm', { plane: { normal: [0, 0, 1] } }],
    ['seams.0.through', { through: [] }],
    [
      'seams.0.through.1.2',
      {
        through: [
          [1, 2, 3],
          [1, 2, 'high'],
        ],
      },
    ],
    ['seams.0.pegs', { pegs: 'two' }],
    ['seams.0.pegs.1', { pegs: [pegs[0], 'auto'] }],
    ['seams.0.pegs.1.widthMm', { pegs: [pegs[0], { ...pegs[0], widthMm: -1 }] }],
    ['seams.0.pegs.0.at', { pegs: [{ kind: 'taper' }] }],
    ['seams.0.pegs.0.kind', { pegs: [{ at: 'auto', kind: 'square' }] }],
    ['seams.0.pegs.0', { pegs: [{ ...pegs[0], depthMm: 1 }] }],
    ['seams.0.names.front', { names: { front: '', back: 'body' } }],
    ['seams.0', { colour: 'red' }],
    ['seams.0', { by: { kind: 'plane', ...plane } }],
    ['seams.0', { joints: [] }],
    ['seams.0.plane', { plane: { ...plane, kind: 'plane' } }],
    ['seams.0.plane', { plane: { ...plane, through: [[1, 2, 12]] } }],
    ['seams.0.pegs.1', { pegs: [pegs[0], { ...pegs[1], id: 'b' }] }],
  ])('is refused by its own name for the place: %s', (where, seam) => {
    expect(() => read(version1(seam))).toThrow(
      expect.objectContaining({ code: 'job-invalid', facts: expect.objectContaining({ where }) }),
    );
  });

  it.each([
    ['seams', { seams: {} }],
    ['seams.0', { seams: ['neck'] }],
    ['', { author: 'me' }],
    ['sculpt.file', { sculpt: { scale: 1 } }],
  ])('is refused outside its seams as before: %s', (where, job) => {
    expect(() => read(version1({}, job))).toThrow(
      expect.objectContaining({ code: 'job-invalid', facts: expect.objectContaining({ where }) }),
    );
  });
});

describe('a job of version 2', () => {
  const joints = [
    { id: 'a', kind: 'taper', at: [1, 2, 12], widthMm: 6, heightMm: 5 },
    { id: 'left', kind: 'round', at: 'auto', diameterMm: 4, draftDeg: 3 },
  ];
  const version2 = (seam: Json = {}): Json => ({
    ...version1(),
    version: 2,
    seams: [
      {
        id: 'neck',
        of: 'sculpt',
        by: { kind: 'plane', ...plane, through: [[1, 2, 12]] },
        pegOn: 'back',
        names,
        joints,
        ...seam,
      },
    ],
  });

  it('is read as it was written', () => {
    expect(read(version2())).toEqual(version2());
    expect(read(read(version1()))).toEqual(read(version1()));
  });

  it.each([
    ['seams.0.by.normal', { by: { kind: 'plane', normal: [0, 0, 0], offsetMm: 1 } }],
    ['seams.0.by.kind', { by: { ...plane, kind: 'bent' } }],
    ['seams.0.by', { by: { kind: 'plane', ...plane, tilt: 3 } }],
    ['seams.0.joints', { joints: [joints[0], { ...joints[1], id: 'a' }] }],
    ['seams.0.joints.0.id', { joints: [{ kind: 'taper', at: 'auto' }] }],
    ['seams.0.joints.1.diameterMm', { joints: [joints[0], { ...joints[1], diameterMm: 0 }] }],
    ['seams.0.joints.1', { joints: [joints[0], { ...joints[1], widthMm: 4 }] }],
    ['seams.0', { pegs: [] }],
    ['seams.0', { plane }],
  ])('is refused by the place that is wrong: %s', (where, seam) => {
    expect(() => read(version2(seam))).toThrow(
      expect.objectContaining({ code: 'job-invalid', facts: expect.objectContaining({ where }) }),
    );
  });
});
