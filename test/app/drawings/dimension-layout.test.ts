import { describe, expect, it } from 'vitest';
import { arrowhead, layoutDimension, readableAngle } from '../../../app/drawings/dimension-layout.ts';
import { TUNING } from '../../../app/drawings/tuning.ts';

describe('a dimension', () => {
  it('stands off its feature: extension lines with a gap and an overrun, line and text parallel to it', () => {
    const d = layoutDimension([10, 50], [110, 50], { offset: 20, textPx: 30 });
    expect(d.line).toEqual([
      [10, 70],
      [110, 70],
    ]);
    expect(d.extensions[0]).toEqual([
      [10, 50 + TUNING.extensionGapPx],
      [10, 70 + TUNING.extensionOverrunPx],
    ]);
    expect(d.text).toEqual({ at: [60, 70 - TUNING.textLiftPx], angleDeg: 0 });
    expect(d.inside).toBe(true);
  });

  it('points its arrows outward when there is room, inward from outside when there is not', () => {
    const roomy = layoutDimension([0, 0], [100, 0], { textPx: 30 });
    expect(roomy.arrows.map((a) => Math.cos(a.angle))).toEqual([-1, 1]);
    const tight = layoutDimension([0, 0], [6, 0], { textPx: 30 });
    expect(tight.inside).toBe(false);
    expect(tight.arrows.map((a) => Math.cos(a.angle))).toEqual([1, -1]);
    expect(tight.arrows.map((a) => a.tip)).toEqual([
      [0, 0],
      [6, 0],
    ]);
  });

  it('puts text that finds no room past the end it was given, clear of the arrowhead', () => {
    const after = layoutDimension([0, 0], [6, 0], { textPx: 30, textAt: 'to' });
    expect(after.text.at[0] - 15).toBeGreaterThanOrEqual(6 + TUNING.arrowPx);
    const before = layoutDimension([0, 0], [6, 0], { textPx: 30, textAt: 'from' });
    expect(before.text.at[0] + 15).toBeLessThanOrEqual(-TUNING.arrowPx);
    expect(before.line[0][0]).toBeLessThanOrEqual(before.text.at[0] - 15);
  });

  it('is read from below or from the right', () => {
    expect([0, 180, 90, -90, 45, 135, -135, 270].map(readableAngle)).toEqual([
      0, 0, -90, -90, 45, -45, 45, -90,
    ]);
    const upright = layoutDimension([50, 100], [50, 0], { textPx: 30 });
    expect(upright.text.angleDeg).toBe(-90);
    expect(upright.text.at[0]).toBeCloseTo(50 - TUNING.textLiftPx, 10);
  });

  it('still has a direction when both features fall together', () => {
    const d = layoutDimension([5, 5], [5, 5], { textPx: 10, along: [0, -1] });
    expect(d.line[1][1]).toBeLessThan(5);
    expect(d.line[1][0]).toBeCloseTo(5, 10);
  });

  it('has slim arrowheads: 15 to 20 degrees', () => {
    const [tip, a, b] = arrowhead({ tip: [0, 0], angle: 0.3 });
    const angle = (p: readonly [number, number]) => Math.atan2(p[1] - tip[1], p[0] - tip[0]);
    const full = (Math.abs(angle(a) - angle(b)) * 180) / Math.PI;
    expect(full).toBeGreaterThanOrEqual(15);
    expect(full).toBeLessThanOrEqual(20);
  });
});
