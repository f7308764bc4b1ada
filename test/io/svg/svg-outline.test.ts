import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toErrorRecord } from '../../../src/errors.ts';
import { readSvgOutline } from '../../../src/io/svg/read-svg-outline.ts';
import type { Vec2 } from '../../../src/math/vec3.ts';
import { CURVE_CHORD_MM, outlineOfPath } from '../../../src/model/outline.ts';
import { inEnglish } from '../../support/in-english.ts';

const ofPath = (data: string): readonly Vec2[] => {
  const read = outlineOfPath(data);
  if ('fault' in read) throw new Error(JSON.stringify(read.fault));
  return read.outline;
};
const faultOf = (data: string) => {
  const read = outlineOfPath(data);
  return 'fault' in read ? read.fault : null;
};
const drawing = (inside: string, head = 'width="40mm" height="40mm" viewBox="0 0 40 40"') =>
  `<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "a.dtd"><svg xmlns="http://www.w3.org/2000/svg" ${head}>${inside}</svg>`;
const extent = (outline: readonly Vec2[]) =>
  [0, 1].map((k) => {
    const along = outline.map((at) => at[k]!);
    return Math.max(...along) - Math.min(...along);
  });
const refusalOf = async (text: string) => {
  try {
    await readSvgOutline('a.svg', text);
    return null;
  } catch (thrown) {
    return toErrorRecord(thrown);
  }
};

describe('the data of a path', () => {
  it('is read the same however it is written (SVG 1.1, §8.3)', () => {
    const square = ofPath('M 0 0 L 4 0 L 4 4 L 0 4 Z');
    expect(square).toEqual([
      [-2, 2],
      [2, 2],
      [2, -2],
      [-2, -2],
    ]);
    const same = [
      'M0,0H4V4H0z',
      'm0 0 4 0 0 4-4 0z',
      'M0 0h4v4h-4',
      'M0 0 4 0 4 4 0 4 0 0Z',
      '  M0 0L4,0 4 4 0 4zM9 9',
      'M0 0l.4e1.0 0 4-4 0',
    ];
    for (const data of same) expect(ofPath(data), data).toEqual(square);
  });

  it('has its y axis turned up and its middle on the axis', () => {
    const [least] = ofPath('M10 10h8v2h-6v6h-2z').toSorted((a, b) => a[1] - b[1] || a[0] - b[0]);
    expect(least).toEqual([-4, -4]);
  });

  it('keeps to a circle within the chord, drawn as arcs, by cubics or quadratics', () => {
    const k = (4 / 3) * Math.tan(Math.PI / 8) * 5;
    const arcs = 'M5 0A5 5 0 0 1 -5 0 5 5 0 0 1 5 0Z';
    const flags = 'M5 0a5 5 0 01-10 0 5 5 0 0110 0z';
    const cubic = `M5 0C5 ${k} ${k} 5 0 5S-5 ${k} -5 0 ${-k} -5 0 -5 5 ${-k} 5 0Z`;
    for (const [data, off] of [
      [arcs, CURVE_CHORD_MM + 2e-4],
      [flags, CURVE_CHORD_MM + 2e-4],
      // Four cubics are off a circle by 2.7e-4 of its radius (M. Goldapp, Computer Aided Geometric Design 8, 1991).
      [cubic, CURVE_CHORD_MM + 5 * 2.8e-4 + 2e-4],
    ] as const) {
      const outline = ofPath(data);
      expect(outline.length).toBeGreaterThan(40);
      outline.forEach(([x, y], i) => {
        const [nx, ny] = outline[(i + 1) % outline.length]!;
        expect(Math.abs(Math.hypot(x, y) - 5)).toBeLessThan(off);
        expect(5 - Math.hypot((x + nx) / 2, (y + ny) / 2)).toBeLessThan(off);
      });
    }
  });

  it('goes on smoothly behind a quadratic: two of a parabola are as long and high as they should be', () => {
    // Each piece's highest point is half as high as its control point.
    const outline = ofPath('M0 0Q4 4 8 0T16 0V-6H0Z');
    expect(extent(outline)[0]).toBe(16);
    expect(extent(outline)[1]).toBeCloseTo(8, 2);
  });

  it.each([
    ['', { is: 'none' }],
    ['M0 0H4', { is: 'none' }],
    ['L4 0', { is: 'path', at: 1 }],
    ['M0 0H4V4Q1 2 3Z', { is: 'path', at: 15 }],
    ['M0 0H4V4ZM9 9h2v2z', { is: 'several', count: 2 }],
    ['M0 0L4 4H0L4 0Z', { is: 'crossed' }],
    ['M0 0H.5V.5H0Z', { is: 'too-small', mm: 0.5, limit: 0.6 }],
    ['M0 0H500V500H0Z', { is: 'too-far', mm: 250, limit: 200 }],
  ])('%j is refused', (data, fault) => {
    expect(faultOf(data)).toEqual(fault);
  });

  it('is never taken where it is not sound, whatever the text', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[MLHVCSQTAZmlhvcsqtaz0-9 .,e+-]{0,60}$/), (text) => {
        const read = outlineOfPath(text);
        if ('fault' in read) return;
        expect(read.outline.length).toBeGreaterThanOrEqual(3);
        expect(read.outline.flat().every(Number.isFinite)).toBe(true);
      }),
      { seed: 7, numRuns: 3000 },
    );
  });
});

describe('an SVG drawing', () => {
  it.each([
    ['path', '<path d="M4 4h8v6h-8z"/>', [8, 6]],
    ['polygon', '<polygon points="4,4 12,4 12,10 4,10"/>', [8, 6]],
    ['rect', '<rect x="4" y="4" width="8" height="6"/>', [8, 6]],
    ['rounded rect', '<rect width="8" height="6" rx="2"/>', [8, 6]],
    ['circle', '<circle cx="9" cy="9" r="4"/>', [8, 8]],
    ['ellipse', '<ellipse rx="4" ry="3"/>', [8, 6]],
    ['moved and turned', '<g transform="translate(3 3) rotate(90)"><rect width="6" height="8"/></g>', [8, 6]],
    [
      'scaled',
      '<g transform="scale(2)"><rect width="6" height="8" transform="matrix(.5 0 0 .5 1,1)"/></g>',
      [6, 8],
    ],
    [
      'beside what is not drawn',
      '<defs><rect width="1" height="1"/></defs><g style="display: none"><circle r="3"/></g><rect width="8" height="6"/>',
      [8, 6],
    ],
  ])('is read in mm: %s', async (_, inside, sides) => {
    const outline = await readSvgOutline('a.svg', drawing(inside));
    for (const [k, side] of extent(outline).entries()) expect(side).toBeCloseTo(sides[k]!, 2);
  });

  it.each([
    ['width="2in" height="1in" viewBox="0 0 20 10"', 25.4 / 10],
    ['width="20" height="10"', 25.4 / 96],
    ['viewBox="0 0 20 10"', 25.4 / 96],
    ['width="4cm" viewBox="0 0 20 10"', 2],
    ['width="100%" height="100%" viewBox="0 0 20 10"', 25.4 / 96],
  ])('has its size by %s (SVG 1.1, §7.7; a pixel is 1/96 inch, CSS 2.1, §4.3.2)', async (head, scale) => {
    const outline = await readSvgOutline('a.svg', drawing('<rect width="8" height="6"/>', head));
    expect(extent(outline)[0]).toBeCloseTo(8 * scale, 3);
  });

  it.each([
    ['<p>hello</p>', 'a.svg: it is no SVG drawing; save it as plain SVG and open that.'],
    ['<svg><path', 'a.svg: it is no SVG drawing; save it as plain SVG and open that.'],
    [
      drawing('<line x1="0" x2="3"/>'),
      'a.svg: there is no closed outline in it; draw one as a path, a polygon, a rectangle, a circle or an ellipse.',
    ],
    [
      drawing('<circle r="4"/><circle r="3"/>'),
      'a.svg: there are 2 outlines in it, and a peg has one; leave one and delete the others.',
    ],
    [drawing('<path d="M0 0L4 x"/>'), 'a.svg: its path cannot be read from sign 8 on; correct it there.'],
  ])('is refused in one sentence: %s', async (text, sentence) => {
    const record = await refusalOf(text);
    expect(record?.code).toBe('outline-refused');
    expect(inEnglish.refusal(record!)).toBe(sentence);
  });
});
