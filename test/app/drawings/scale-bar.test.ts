import { expect, it } from 'vitest';
import { chooseScaleBar } from '../../../app/drawings/scale-bar.ts';

it.each([
  [10, 100, 10, '10 mm'],
  [10, 99, 5, '5 mm'],
  [13, 90, 5, '5 mm'],
  [40, 90, 2, '2 mm'],
  [90, 90, 1, '1 mm'],
  [91, 90, 0.5, '0.5 mm'],
  [2000, 90, 0.02, '0.02 mm'],
  [0.5, 90, 100, '100 mm'],
])('at %d px/mm and %d px of room the bar is %d mm', (scale, room, mm, label) => {
  const bar = chooseScaleBar(scale, room);
  expect(bar.mm).toBe(mm);
  expect(bar.label).toBe(label);
  expect(bar.px).toBeCloseTo(mm * scale, 10);
  expect(bar.px).toBeLessThanOrEqual(room + 1e-9);
});
