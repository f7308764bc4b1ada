import { expect, test } from 'vitest';
import { middleSeam } from '../../../app/state/new-seam.ts';
import { planeOf } from '../../support/plane-of.ts';

test('a new seam square to the depth names the side towards the viewer front and the other rear', () => {
  const seam = middleSeam('sculpt', { min: [0, 0, 0], max: [1, 9, 1] }, []);
  expect(planeOf(seam).normal).toEqual([0, 1, 0]);
  expect(seam.names).toEqual({ front: 'rear', back: 'front' });
});
