import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Loop, loopArea, regionArea } from '../../src/math/polygon.ts';
import { triangulateRegion } from '../../src/seam/triangulate-region.ts';

/** A star-shaped outline about a middle; clockwise for a hole. */
function star(radii: readonly number[], x: number, y: number, turn: 1 | -1): Loop {
  return Float64Array.from(
    radii.flatMap((r, i) => {
      const angle = (turn * 2 * Math.PI * i) / radii.length;
      return [x + r * Math.cos(angle), y + r * Math.sin(angle)];
    }),
  );
}

function checkFilled(loops: readonly Loop[], triangles: Uint32Array): void {
  const points = loops.flatMap((loop) => [...loop]);
  let area = 0;
  const walked = new Map<string, number>();
  for (let i = 0; i < triangles.length; i += 3) {
    const corners = [...triangles.subarray(i, i + 3)];
    const triangle = Float64Array.from(corners.flatMap((v) => [points[v * 2], points[v * 2 + 1]]));
    expect(loopArea(triangle)).toBeGreaterThan(0);
    area += loopArea(triangle);
    corners.forEach((v, k) => {
      const key = `${v}>${corners[(k + 1) % 3]}`;
      walked.set(key, (walked.get(key) ?? 0) + 1);
    });
  }
  expect(area).toBeCloseTo(regionArea(loops), 9);
  let first = 0;
  let border = 0;
  for (const loop of loops) {
    const count = loop.length / 2;
    for (let i = 0; i < count; i++, border++) {
      expect(walked.get(`${first + i}>${first + ((i + 1) % count)}`)).toBe(1);
    }
    first += count;
  }
  // Every other edge lies between two triangles.
  const inner = [...walked.keys()].filter((key) => walked.has(key.split('>').reverse().join('>')));
  expect(inner.length + border).toBe(triangles.length);
}

describe('a region filled with triangles', () => {
  it('has all its area, every loop edge once and every other twice: stars with star holes, seed 91', () => {
    const radius = (low: number, high: number) => fc.double({ min: low, max: high, noNaN: true });
    const outer = fc.array(radius(6, 10), { minLength: 5, maxLength: 40 });
    const hole = fc.array(radius(0.3, 1.2), { minLength: 3, maxLength: 12 });
    let filled = 0;
    fc.assert(
      fc.property(outer, fc.array(hole, { maxLength: 4 }), (rim, holes) => {
        const places = [
          [-1.5, -1.5],
          [1.5, -1.5],
          [1.5, 1.5],
          [-1.5, 1.5],
        ];
        const loops = [
          star(rim, 0, 0, 1),
          ...holes.map((radii, i) => star(radii, places[i][0], places[i][1], -1)),
        ];
        // A star of few spikes may come too near its middle to hold the holes.
        if (rim.length < 8 && holes.length > 0) return;
        const triangles = triangulateRegion(loops);
        expect(triangles).not.toBeNull();
        checkFilled(loops, triangles as Uint32Array);
        filled++;
      }),
      { seed: 91, numRuns: 300 },
    );
    expect(filled).toBeGreaterThan(200);
  });

  it('keeps points in the middle of straight edges, and fills islands within holes', () => {
    const square = (half: number, steps: number, turn: 1 | -1): Loop => {
      const points: number[] = [];
      for (const [ax, ay, bx, by] of [
        [-1, -1, 1, -1],
        [1, -1, 1, 1],
        [1, 1, -1, 1],
        [-1, 1, -1, -1],
      ]) {
        for (let i = 0; i < steps; i++) {
          points.push(half * (ax + ((bx - ax) * i) / steps), half * (ay + ((by - ay) * i) / steps));
        }
      }
      const pairs = Array.from({ length: points.length / 2 }, (_, i) => points.slice(i * 2, i * 2 + 2));
      return Float64Array.from((turn === 1 ? pairs : pairs.reverse()).flat());
    };
    const loops = [square(8, 16, 1), square(5, 4, -1), square(2, 8, 1)];
    const triangles = triangulateRegion(loops);
    expect(triangles).not.toBeNull();
    checkFilled(loops, triangles as Uint32Array);
  });

  it('answers null where loops touch or cross', () => {
    const diamond = Float64Array.of(3, 0, 0, 3, -3, 0, 0, -3);
    const touching = Float64Array.of(3, 0, 6, -2, 6, 2);
    expect(triangulateRegion([diamond, touching])).toBeNull();
    const crossing = Float64Array.of(1, 0, 6, -2, 6, 2);
    expect(triangulateRegion([diamond, crossing])).toBeNull();
  });
});
