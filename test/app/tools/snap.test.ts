import { describe, expect, it } from 'vitest';
import { type SeenPatch, snapIn } from '../../../app/tools/snap.ts';

/** Looked at along −z, a pixel 0.1 mm wide, the pointer over the origin. */
const seen = (heightAt: (x: number, y: number) => number | null): SeenPatch => {
  const size = 25;
  const places = new Float32Array(size * size * 4);
  for (let j = 0; j < size; j++) {
    for (let i = 0; i < size; i++) {
      const [x, y] = [(i - 12) * 0.1, (j - 12) * 0.1];
      const z = heightAt(x, y);
      if (z !== null) places.set([x, y, z, 1], (j * size + i) * 4);
    }
  }
  return { size, places, pixelMm: 0.1 };
};

describe('a place on the figure', () => {
  it('stays where nothing is near', () => {
    expect(snapIn(seen((x, y) => 0.3 * x + 0.2 * y))).toBeNull();
    expect(snapIn(seen((x, y) => 3 - Math.sqrt(100 - x * x - y * y)))).toBeNull();
    expect(snapIn(seen(() => null))).toBeNull();
  });
  it('goes to the outline, against nothing and against what lies behind', () => {
    for (const beyond of [null, -20]) {
      const at = snapIn(seen((x) => (x < 0.45 ? 1 : beyond)));
      expect(at?.[0]).toBeCloseTo(0.4, 5);
      expect(at?.[1]).toBeCloseTo(0, 5);
      expect(at?.[2]).toBeCloseTo(1, 5);
    }
  });
  it('goes to a crease, sharp inward or outward', () => {
    for (const sign of [1, -1]) {
      const at = snapIn(seen((x, y) => sign * Math.abs(x + y - 0.6)));
      expect(at && Math.abs(at[0] + at[1] - 0.6)).toBeLessThan(0.35);
    }
  });
  it('goes no farther than the patch', () => {
    expect(snapIn(seen((x) => (x < 1.15 ? 1 : null)))).toBeNull();
  });
});
