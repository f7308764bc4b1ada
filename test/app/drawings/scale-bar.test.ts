import { expect, it } from 'vitest';
import { chooseScaleBar } from '../../../app/drawings/scale-bar.ts';

it.each([
  [10, 100, 10],
  [10, 99, 5],
  [13, 90, 5],
  [40, 90, 2],
  [90, 90, 1],
  [91, 90, 0.5],
  [2000, 90, 0.02],
  [0.5, 90, 100],
])('at %d px/mm and %d px of room the bar is %d mm', (scale, room, mm) => {
  const bar = chooseScaleBar(scale, room);
  expect(bar.mm).toBe(mm);
  expect(bar.px).toBeCloseTo(mm * scale, 10);
  expect(bar.px).toBeLessThanOrEqual(room + 1e-9);
});
