import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  boundsOf,
  fitView,
  panBy,
  toScreen,
  toWorld,
  type View,
  zoomAt,
} from '../../../app/drawings/view.ts';

const view: View = { scale: 12, x: 190, y: 150, way: 1 };

describe('world to screen', () => {
  it('draws y upward from the origin', () => {
    expect(toScreen(view, [1, 2])).toEqual([202, 126]);
  });

  it('draws y downward where the world is turned over, and back', () => {
    const over: View = { ...view, way: -1 };
    expect(toScreen(over, [1, 2])).toEqual([202, 174]);
    expect(toWorld(over, [202, 174])).toEqual([1, 2]);
    const fitted = fitView({ min: [-2, 1], max: [8, 3] }, { x: 20, y: 10, width: 100, height: 80 }, -1);
    expect(toScreen(fitted, [3, 2])).toEqual([70, 50]);
  });

  it('comes back to the same point at any scale and place', () => {
    const number = fc.double({ min: -1e3, max: 1e3, noNaN: true });
    const scale = fc.double({ min: 0.5, max: 2000, noNaN: true });
    fc.assert(
      fc.property(number, number, number, number, scale, (px, py, x, y, s) => {
        const back = toWorld({ scale: s, x, y, way: 1 }, toScreen({ scale: s, x, y, way: 1 }, [px, py]));
        expect(Math.hypot(back[0] - px, back[1] - py)).toBeLessThan(1e-8);
      }),
      { seed: 20, numRuns: 200 },
    );
  });

  it('keeps the point under the pointer while zooming', () => {
    const before = toWorld(view, [40, 220]);
    const after = toWorld(zoomAt(view, [40, 220], 3.7), [40, 220]);
    expect(after[0]).toBeCloseTo(before[0], 10);
    expect(after[1]).toBeCloseTo(before[1], 10);
  });

  it('stops zooming at the limits without moving', () => {
    const near = zoomAt({ scale: 2000, x: 5, y: 6, way: 1 }, [50, 50], 2);
    expect(near).toEqual({ scale: 2000, x: 5, y: 6, way: 1 });
  });

  it('pans by screen pixels', () => {
    expect(panBy(view, 3, -4)).toEqual({ scale: 12, x: 193, y: 146, way: 1 });
  });

  it('fits bounds into a rectangle, touching its narrower pair of sides', () => {
    const bounds = boundsOf([Float64Array.of(-2, 1, 8, 1, 8, 3, -2, 3)]);
    const fitted = fitView(bounds, { x: 20, y: 10, width: 100, height: 80 });
    expect(fitted.scale).toBe(10);
    expect(toScreen(fitted, [-2, 2])).toEqual([20, 50]);
    expect(toScreen(fitted, [8, 2])).toEqual([120, 50]);
  });

  it('answers a usable view for an empty face', () => {
    expect(Number.isFinite(fitView(boundsOf([]), { x: 0, y: 0, width: 0, height: 0 }).scale)).toBe(true);
  });
});
