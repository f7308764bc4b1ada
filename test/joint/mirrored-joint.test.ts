import { describe, expect, it } from 'vitest';
import { mirroredJoint } from '../../src/joint/mirrored-joint.ts';
import type { AskedJoint } from '../../src/model/joint.ts';
import { mirroredSeam } from '../../src/model/mirrored-seam.ts';
import { planeSeam, type SeamPlane } from '../../src/model/seam-spec.ts';

const ACROSS: SeamPlane = { normal: [1, 0, 0], offsetMm: 1 };

describe('the mirror image of a joint', () => {
  const imageOf = (joint: AskedJoint, across = ACROSS, by = planeSeam([0.6, 0, 0.8], 3)) =>
    mirroredJoint(joint, mirroredSeam(by, across)!, across);

  it('is spun the other way as far, across an upright plane', () => {
    const joint: AskedJoint = { id: 'a', kind: 'taper', at: [4, 2, 0.75], widthMm: 5, spinDeg: 30 };
    expect(imageOf(joint)).toEqual({ ...joint, at: [-2, 2, 0.75], spinDeg: -30 });
    expect(imageOf({ ...joint, spinDeg: 200 }).spinDeg).toBe(-20);
  });

  it('says nothing of a spin where none is said and none comes of it', () => {
    const joint: AskedJoint = { id: 'b', kind: 'taper', at: 'auto', lengthMm: 5 };
    expect(imageOf(joint)).toEqual(joint);
    // A mirror that leans turns what was level.
    expect(imageOf(joint, { normal: [0.6, 0.48, 0.64], offsetMm: 0 }).spinDeg).not.toBeUndefined();
  });

  it('has no spin where its kind has none', () => {
    const joint: AskedJoint = { id: 'c', kind: 'round', at: [1, 0, 0], diameterMm: 3 };
    expect(imageOf(joint, { normal: [0.6, 0.48, 0.64], offsetMm: 0 })).not.toHaveProperty('spinDeg');
  });

  it('is none for a seam between bodies', () => {
    expect(mirroredSeam({ kind: 'contact', bodies: ['1', '2'] }, ACROSS)).toBe(null);
  });
});
