import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readMesh } from '../../src/io/read-mesh.ts';
import { IO_TUNING } from '../../src/io/tuning.ts';
import { lumpySphere } from '../support/figures.ts';
import { dripSource, obj, off, textStl, utf8 } from '../support/mesh-files.ts';
import { box, cornersOf } from '../support/simple-solids.ts';

/** Texts with lines longer than any that is held whole: valid, if odd. */

const cube = box([1, 2, 3], [4, 6, 8]);
const read = (text: string, size = 1 << 20) =>
  readMesh(dripSource('a.txt', utf8(text), size), { unit: 'mm', scale: 1 });
const refusal = (text: string) =>
  read(text).then(
    () => null,
    ({ code, facts }) => [code, facts],
  );
const LONG = IO_TUNING.lineBytes + 12_345;

/** Equal to the bit; of a million numbers an assertion takes seconds. */
const sameBytes = (a: Float32Array, b: Float32Array): boolean =>
  Buffer.from(a.buffer, a.byteOffset, a.byteLength).equals(Buffer.from(b.buffer, b.byteOffset, b.byteLength));

describe('a text STL all on one line', () => {
  const onOneLine = (text: string) => text.replaceAll(/\s+/g, ' ');
  const two = `${textStl(cube).replaceAll('test', 'the first')}${textStl(box([9, 9, 9], [10, 10, 10])).replaceAll('test', 'facet two')}`;

  it('is the same figure, with the same bodies, as on many, however it is cut up, seed 18', async () => {
    const many = await read(two);
    expect(many.bodies?.map(({ name }) => name)).toEqual(['the first', 'facet two']);
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: 3000 }), async (size) => {
        expect(await read(onOneLine(two), size)).toEqual(many);
      }),
      { seed: 18, numRuns: 20 },
    );
  });

  it('is so where it is longer than what is held', async () => {
    const { positions, triangles } = lumpySphere(1, 20, 6);
    const facets = Array.from({ length: triangles.length / 3 }, (_, t) => {
      const corner = (k: number) =>
        positions.subarray(triangles[t * 3 + k] * 3, triangles[t * 3 + k] * 3 + 3).join(' ');
      return `facet normal 0 0 0 outer loop vertex ${corner(0)} vertex ${corner(1)} vertex ${corner(2)} endloop endfacet`;
    });
    const text = `solid a b ${facets.join(' ')} endsolid a b`;
    expect(text.length).toBeGreaterThan(2 * IO_TUNING.lineBytes);
    const corners = Float32Array.from(cornersOf({ positions, triangles }));
    for (const size of [1 << 16, 3_000_001]) {
      const { mesh, originMm } = await read(text, size);
      expect(originMm).toEqual([0, 0, 0]);
      expect(sameBytes(mesh.positions, corners)).toBe(true);
    }
    expect(await refusal(text.slice(0, text.length - 3_000))).toMatchObject(['file-truncated', {}]);
  });

  it('is refused where a word has no place in it, wherever that stands', async () => {
    expect(await refusal(`${onOneLine(two)}\n`.replace('endfacet', 'endfacet oops'))).toMatchObject([
      'file-malformed',
      {},
    ]);
  });

  it('keeps names that hold its own words, where lines end them', async () => {
    const text = textStl(cube).replaceAll('test', 'my solid # 3 of a facet');
    expect((await read(text)).bodies?.map(({ name }) => name)).toEqual(['my solid # 3 of a facet']);
    expect((await read(text)).mesh.triangles).toHaveLength(36);
  });
});

describe('an OBJ with one very long line', () => {
  const plain = obj(cube);
  const lines = plain.split('\n');
  /** The file with a line put in its midst. */
  const withLine = (line: string) => [...lines.slice(0, 9), line, ...lines.slice(9)].join('\n');

  it.each([
    ['a comment', `# ${'x '.repeat(LONG / 2)}`],
    ['a comment of one word', `#${'x'.repeat(LONG)}`],
    ['points that are passed over', `p${' 1'.repeat(LONG / 2)}`],
    ['a comment behind a vertex', `v 1 1 1 # ${'x '.repeat(LONG / 2)}`],
    ['a comment that goes on in the next line', `# ${'x '.repeat(LONG / 2)}\\\nv 9 9 9`],
    ['a comment that ends in a return alone', `# ${'x '.repeat(LONG / 2)}\r`],
    ['a comment longer than two pieces', `# ${'x '.repeat(LONG)}`],
  ])('is read as without it: %s', async (_, line) => {
    const asOnce = await read(withLine(line.startsWith('v') ? 'v 1 1 1' : ''));
    for (const size of [1 << 16, 5 << 20]) expect(await read(withLine(line), size)).toEqual(asOnce);
  });

  it('keeps what comes after a group whose name is cut', async () => {
    const text = `${lines.join('\n')}\ng ${'name '.repeat(LONG / 5)}\nf 1 2 3\n`;
    const { bodies, mesh } = await read(text);
    expect(mesh.triangles).toHaveLength(39);
    expect(bodies?.every(({ name }) => name.length < 200)).toBe(true);
  });

  it('is refused where the line is one that counts, and says why', async () => {
    expect(await refusal(withLine(`f${' 1'.repeat(LONG)}`))).toMatchObject([
      'file-malformed',
      { fault: { is: 'line-too-long', megabytes: 4 } },
    ]);
    expect(await refusal(withLine(`${' '.repeat(2 * LONG)}v 1 1 1`))).toMatchObject(['file-malformed', {}]);
  });

  it('has a sound line count behind it', async () => {
    const at = (text: string) => refusal(`${text}\nv 1 x 1\n`).then((told) => told?.[1].line);
    const comment = `# ${'x '.repeat(LONG / 2)}`;
    expect(await at(withLine(comment))).toBe(await at(withLine('#')));
  });
});

describe('an OFF with one very long comment', () => {
  it('is read as without it', async () => {
    const [head, ...others] = off(cube).split('\n');
    const text = [head, `# ${'x '.repeat(LONG / 2)}`, ...others].join('\n');
    expect(await read(text, 1 << 18)).toEqual(await read(off(cube)));
  });
});
