import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Feed } from '../../../src/io/bytes/feed.ts';
import { lineBlocks } from '../../../src/io/text/line-blocks.ts';
import { TextScanner } from '../../../src/io/text/scanner.ts';
import { utf8 } from '../../support/mesh-files.ts';

async function* none() {}
const feed: Feed = { file: 'a.txt', format: 'obj', byteLength: null, pieces: none(), beside: [] };

function numberOf(text: string): number {
  const scanner = new TextScanner(feed);
  scanner.load(utf8(`${text}\n`));
  return scanner.number();
}

const finite = fc.double({ noNaN: true, noDefaultInfinity: true });
const single = fc.float({ noNaN: true, noDefaultInfinity: true });
const spelt = fc.oneof(
  finite.map(String),
  finite.map((x) => x.toExponential()),
  single.map((x) => x.toPrecision(9)),
  single.map((x) => x.toExponential(6).toUpperCase()),
  fc.double({ min: -1e6, max: 1e6, noNaN: true }).map((x) => x.toFixed(6)),
  fc.tuple(fc.nat(), fc.nat(), fc.integer({ min: -400, max: 400 })).map(([a, b, e]) => `+${a}.${b}e${e}`),
);

describe('numbers in text', () => {
  it('are rounded as Number rounds them, seed 3', () => {
    fc.assert(
      fc.property(spelt, (text) => Object.is(numberOf(text), Number(text))),
      { seed: 3, numRuns: 5000 },
    );
  });

  it.each(['0', '-0', '.5', '5.', '-.5e1', '00012', '1e22', '1e23', '123456789012345678', '0.1e-30'])(
    'reads %s',
    (text) => expect(numberOf(text)).toBe(Number(text)),
  );

  it.each(['nan', '-NaN', '-nan(ind)', '1.#QNAN', 'inf', '-INF', 'Infinity', '1.#INF'])(
    'reads %s as no place',
    (text) => expect(Number.isFinite(numberOf(text))).toBe(false),
  );

  it.each(['1,5', 'x', '1e', '1e+', '--1', '.', '-', '1.2.3', '0x10', '1#2'])('refuses %s', (text) =>
    expect(() => numberOf(text)).toThrow('file-malformed'),
  );
});

it('refuses a number of 2,000 digits', () => {
  expect(() => numberOf('9'.repeat(2000))).toThrow('file-malformed');
});

describe('lines', () => {
  async function blocksOf(pieces: string[], continues = false): Promise<string[]> {
    async function* parts() {
      for (const piece of pieces) yield utf8(piece);
    }
    const blocks: string[] = [];
    for await (const { bytes } of lineBlocks(feed, parts(), { continues })) {
      blocks.push(new TextDecoder().decode(bytes));
    }
    return blocks;
  }

  it('stay whole however the bytes are cut, seed 8', async () => {
    const text = 'ab\r\ncd\n\nef gh\rij\\\nkl\nlast';
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.nat(text.length), { maxLength: 8 }),
        fc.boolean(),
        async (at, continues) => {
          const cuts = [0, ...at.sort((a, b) => a - b), text.length];
          const pieces = cuts.slice(1).map((end, i) => text.slice(cuts[i], end));
          const blocks = await blocksOf(pieces, continues);
          expect(blocks.join('')).toBe(`${text}\n`);
          for (const block of blocks) {
            expect(block).toMatch(/(\n|\r)$/);
            if (continues) expect(block).not.toMatch(/\\\r?\n$/);
          }
          // A pair of return and line feed is never parted, or lines would be counted twice.
          for (const block of blocks.slice(1))
            if (block.startsWith('\n')) expect(blocks[0]).not.toMatch(/\r$/);
        },
      ),
      { seed: 8, numRuns: 500 },
    );
  });

  it('are counted whether they end in LF, CR or both', () => {
    const scanner = new TextScanner(feed);
    scanner.load(utf8('1\n2\r3\r\n# no\n\n 4\n'));
    const lines: [number, number][] = [];
    while (scanner.nextFilledLine()) lines.push([scanner.number(), scanner.line]);
    expect(lines).toEqual([
      [1, 1],
      [2, 2],
      [3, 3],
      [4, 6],
    ]);
  });

  it('without end are refused', async () => {
    await expect(blocksOf(Array(6).fill('x'.repeat(1 << 20)))).rejects.toThrow('file-malformed');
  });
});
