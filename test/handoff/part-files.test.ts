import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { zipArchive } from '../../src/handoff/archive.ts';
import { fileStem, partFileNames } from '../../src/handoff/part-files.ts';
import { partFiles } from '../../src/handoff/write-parts.ts';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import { PART_FORMATS } from '../../src/io/writers.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import { partOf } from '../../src/mesh/part/part.ts';
import { lumpySphere } from '../support/figures.ts';
import { box, fanned } from '../support/simple-solids.ts';

describe('file names', () => {
  it.each([
    ['head', 'head'],
    ['  left  wing ', 'left-wing'],
    ['a/b\\c:d*e?f"g<h>i|j', 'a-b-c-d-e-f-g-h-i-j'],
    ['..', 'part'],
    ['.hidden.', 'hidden'],
    ['', 'part'],
    ['\u0000\u001f\u202e', 'part'],
    ['re\u0301sine', 'r\u00e9sine'],
    ['鷺の頭', '鷺の頭'],
    ['x'.repeat(300), 'x'.repeat(80)],
  ])('make %j into %j', (name, stem) => {
    expect(fileStem(name)).toBe(stem);
  });

  it.each(['con', 'NUL', 'aux', 'com1', 'LPT9'])(
    'keep off the name %s, which some systems hold back',
    (name) => {
      expect(partFileNames(name, [name], 'stl')[0].toLowerCase()).not.toBe(`${name.toLowerCase()}.stl`);
    },
  );

  it('end in no point or blank, and hold no half of a character, where they are cut short', () => {
    for (const name of [`${'x'.repeat(79)}.y`, `${'x'.repeat(79)} y`, `${'x'.repeat(79)}🦩🦩`]) {
      const stem = fileStem(name);
      expect(stem).not.toMatch(/[.\s-]$/);
      expect(new TextDecoder().decode(new TextEncoder().encode(stem))).toBe(stem);
    }
  });

  it('are all different, letter case aside', () => {
    const names = partFileNames('heron', ['wing', 'Wing', 'wing', 'wing-2', 'a b', 'a  b'], 'stl');
    expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(6);
    expect(names[0]).toBe('heron-wing.stl');
    expect(names[1]).toBe('heron-Wing-2.stl');
    expect(partFileNames('heron', ['heron'], 'stl')).toEqual(['heron.stl']);
  });
});

describe('an archive', () => {
  const origin: Vec3 = [1000, -20, 0.5];
  const parts = [
    { name: 'head', part: partOf(lumpySphere(4, 10, 4)) },
    { name: 'body', part: partOf(fanned(box([0, 0, 0], [1, 2, 3]))) },
    { name: 'HEAD', part: partOf(lumpySphere(5, 3, 1)) },
  ];

  it('gives back every file byte for byte', () => {
    const pieces = zipArchive(partFiles(PART_FORMATS[0], 'heron', parts, origin));
    const bytes = new Uint8Array(pieces.reduce((n, piece) => n + piece.length, 0));
    let at = 0;
    for (const piece of pieces) {
      bytes.set(piece, at);
      at += piece.length;
    }
    const files = unzipSync(bytes);
    expect(Object.keys(files)).toEqual(['heron-head.stl', 'heron-body.stl', 'heron-HEAD-2.stl']);
    parts.forEach(({ part }, i) => {
      const stl = writeStlBinary({ positions: part.positions, triangles: part.patches[0].triangles }, origin);
      expect(Buffer.compare(Object.values(files)[i], stl)).toBe(0);
    });
  });

  it('may be made again from the same entries', () => {
    const entries = partFiles(PART_FORMATS[0], 'heron', parts, origin);
    const size = () => zipArchive(entries).reduce((n, piece) => n + piece.length, 0);
    expect(size()).toBe(size());
    expect(size()).toBeGreaterThan(1_000);
  });
});
