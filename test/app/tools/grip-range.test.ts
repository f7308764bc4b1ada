import { expect, test } from 'vitest';
import { gripRange } from '../../../app/tools/grip-range.ts';

const BOX = { min: [-1, 0, 2], max: [3, 4, 10] } as const;

test('the arrow of a seam moves over the figure along its normal, whichever way that points', () => {
  expect(gripRange('offset', [0, 0, 1], BOX, 5)).toEqual([2, 10]);
  expect(gripRange('offset', [-1, 0, 0], BOX, 0)).toEqual([-3, 1]);
  expect(gripRange('offset', [0.6, 0, 0.8], BOX, 5)[1]).toBeCloseTo(9.8, 12);
});

test('a seam that lies off the figure is still within its range', () => {
  expect(gripRange('offset', [0, 0, 1], BOX, 12)).toEqual([2, 12]);
  expect(gripRange('offset', [0, 0, 1], BOX, -4)).toEqual([-4, 10]);
});
