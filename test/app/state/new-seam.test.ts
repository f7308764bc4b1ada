import { expect, test } from 'vitest';
import { middleSeam } from '../../../app/state/new-seam.ts';
import { heldPlane } from '../../../src/index.ts';

test('a new seam square to the depth names the side towards the viewer front and the other rear', () => {
  const { names, by } = middleSeam('sculpt', { min: [0, 0, 0], max: [1, 9, 1] }, []);
  expect(heldPlane(by).normal).toEqual([0, 1, 0]);
  expect(names).toEqual({ front: 'rear', back: 'front' });
});
