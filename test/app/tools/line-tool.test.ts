import { describe, expect, it } from 'vitest';
import {
  acrossSweep,
  flatAt,
  movedLine,
  placeAcross,
  shortenedLine,
  withFlat,
  withPointOn,
} from '../../../app/tools/line-tool.ts';
import type { Vec3 } from '../../../src/index.ts';

const LINE: Vec3[] = [
  [0, 0, 0],
  [10, 0, 0],
  [20, 0, 6],
];
const FLATS = [{ at: LINE[1]!, widthMm: 4 }];

describe('a place across a sweep', () => {
  it('is where one looks, in the plane through a point', () => {
    const at = placeAcross({ origin: [1, -50, 2], direction: [0.6, 0.8, 0] }, [0, -1, 0], [9, 10, 9]);
    expect(at).toEqual([46, 10, 2]);
  });
  it('is none where one looks along that plane', () => {
    expect(placeAcross({ origin: [0, 0, 9], direction: [0, 0, -1] }, [0, 1, 0], [0, 0, 0])).toBeNull();
  });
  it('goes right and up as one who looks against the sweep sees it', () => {
    const across = (along: Vec3) => Object.values(acrossSweep(along)).map((way) => way.map((c) => c + 0));
    expect(across([0, -2, 0])).toEqual([
      [1, 0, 0],
      [0, 0, 1],
    ]);
    expect(across([0, 0, 1])).toEqual([
      [1, 0, 0],
      [0, 1, 0],
    ]);
  });
});

describe('the points of a line', () => {
  it('take their flats along, and away with them', () => {
    const moved = movedLine({ line: LINE, flats: FLATS }, 1, [10, 0, 5]);
    expect(moved.line).toEqual([LINE[0], [10, 0, 5], LINE[2]]);
    expect(moved.flats).toEqual([{ at: [10, 0, 5], widthMm: 4 }]);
    expect(shortenedLine({ line: LINE, flats: FLATS }, 1)).toEqual({ line: [LINE[0], LINE[2]], flats: [] });
    expect(shortenedLine({ line: LINE, flats: FLATS }, 0).flats).toEqual(FLATS);
  });
  it('are never fewer than two', () => {
    const two = { line: LINE.slice(0, 2), flats: [] };
    expect(shortenedLine(two, 0)).toEqual(two);
  });
  it('are added in the middle of a run', () => {
    expect(withPointOn(LINE, 1)[2]).toEqual([15, 0, 3]);
    expect(withPointOn(LINE, 1).length).toBe(4);
  });
  it('have one flat each', () => {
    const wider = withFlat(FLATS, LINE[1]!, 7);
    expect(wider).toEqual([{ at: LINE[1], widthMm: 7 }]);
    expect(flatAt(wider, LINE[1]!)?.widthMm).toBe(7);
    expect(withFlat(FLATS, LINE[1]!, undefined)).toEqual([]);
    expect(flatAt(FLATS, LINE[0]!)).toBeUndefined();
  });
});
