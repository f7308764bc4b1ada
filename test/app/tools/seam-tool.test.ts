import { describe, expect, it } from 'vitest';
import { alongLine, createSeamTool, type HandlePose, type Ray } from '../../../app/tools/seam-tool.ts';
import type { SeamPlane } from '../../../src/index.ts';

const pose: HandlePose = {
  plane: { normal: [0, 0, 1], offsetMm: 40 },
  centre: [0, 0, 40],
  u: [1, 0, 0],
  v: [0, 1, 0],
  grip: [10, 0, 40],
  lever: 10,
};
/** A level line of sight along Y that passes the grip's line at a height. */
const at = (z: number): Ray => ({ origin: [10, -100, z], direction: [0, 1, 0] });

function rig() {
  const log: string[] = [];
  const planes: SeamPlane[] = [];
  const tool = createSeamTool({
    begin: () => log.push('begin'),
    update: (plane) => planes.push(plane),
    complete: () => log.push('complete'),
    cancel: () => log.push('cancel'),
  });
  return { tool, log, planes };
}

describe('the seam tool', () => {
  it('moves the seam by as much as the pointer moved along the normal', () => {
    const { tool, planes, log } = rig();
    tool.enter('offset', pose, at(41));
    tool.move(at(44.5), false);
    tool.complete();
    expect(planes).toEqual([{ normal: [0, 0, 1], offsetMm: 43.5 }]);
    expect(log).toEqual(['begin', 'complete']);
  });

  it('computes every move from where it began, so that moves do not add up', () => {
    const { tool, planes } = rig();
    tool.enter('offset', pose, at(40));
    for (const z of [45, 20, 41]) tool.move(at(z), false);
    expect(planes.at(-1)).toEqual({ normal: [0, 0, 1], offsetMm: 41 });
  });

  it('tilts about the middle of the face: the plane goes on through it', () => {
    const { tool, planes } = rig();
    tool.enter('along', { ...pose, grip: [0, 10, 40] }, { origin: [-100, 10, 40], direction: [1, 0, 0] });
    tool.move({ origin: [-100, 10, 50], direction: [1, 0, 0] }, false);
    const { normal, offsetMm } = planes[0];
    expect(normal[1]).toBeCloseTo(-Math.SQRT1_2, 6);
    expect(normal[2]).toBeCloseTo(Math.SQRT1_2, 6);
    expect(offsetMm).toBeCloseTo(normal[2] * 40, 3);
  });

  it('lifts the edge that is held: the knob at −u goes up with the pointer', () => {
    const { tool, planes } = rig();
    tool.enter('across', { ...pose, grip: [-10, 0, 40] }, { origin: [-10, -100, 40], direction: [0, 1, 0] });
    tool.move({ origin: [-10, -100, 45], direction: [0, 1, 0] }, false);
    const { normal, offsetMm } = planes[0];
    const heightAtKnob = (offsetMm - normal[0] * -10) / normal[2];
    expect(heightAtKnob).toBeCloseTo(45, 1);
  });

  it('snaps to whole millimetres and five degrees when asked', () => {
    const { tool, planes } = rig();
    tool.enter('offset', pose, at(40));
    tool.move(at(43.4), true);
    expect(planes[0].offsetMm).toBe(43);
  });

  it('cancels once, and ignores moves after it', () => {
    const { tool, log, planes } = rig();
    tool.enter('offset', pose, at(40));
    tool.cancel();
    tool.move(at(60), false);
    tool.complete();
    expect(log).toEqual(['begin', 'cancel']);
    expect(planes).toEqual([]);
    expect(tool.isDragging()).toBe(false);
  });

  it('ignores a move seen along the normal itself, where a pixel would be a leap', () => {
    const { tool, planes } = rig();
    tool.enter('offset', pose, at(40));
    tool.move({ origin: [10, 0, 200], direction: [0, 0, -1] }, false);
    expect(planes).toEqual([]);
  });
});

describe('alongLine', () => {
  it('finds the nearest point of two skew lines', () => {
    expect(alongLine([0, 0, 0], [1, 0, 0], { origin: [7, 5, -9], direction: [0, 0, 1] })).toBeCloseTo(7, 12);
  });
});
