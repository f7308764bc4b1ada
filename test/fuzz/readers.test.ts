import { describe, expect, it } from 'vitest';
import { PegwrightError } from '../../src/errors.ts';
import { openSculpt } from '../../src/pipeline/sculpt.ts';
import { dripSource, everyFormat, gzipped } from '../support/mesh-files.ts';
import { frustum } from '../support/simple-solids.ts';

/** A small seeded generator (mulberry32) of whole numbers below `n`. */
function randomBelow(seed: number): (n: number) => number {
  let state = seed;
  return (n) => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return Math.floor((((t ^ (t >>> 14)) >>> 0) / 2 ** 32) * n);
  };
}

type Below = (n: number) => number;
type Mutation = (bytes: Uint8Array, below: Below) => Uint8Array;

const cut: Mutation = (bytes, below) => bytes.slice(0, below(bytes.length));

const flip: Mutation = (bytes, below) => {
  const out = bytes.slice();
  for (let n = 1 + below(8); n > 0; n--) out[below(out.length)] ^= 1 << below(8);
  return out;
};

/** Numbers that counts like to lie with, put where a number or anything else was. */
const lie: Mutation = (bytes, below) => {
  const lies = ['4294967295', '-1', '99999999999999999999', '0', '1e9', 'nan', '0.5', '2147483648'];
  const text = Buffer.from(bytes).toString('latin1');
  const numbers = [...text.matchAll(/\d+/g)];
  if (numbers.length === 0) return flip(bytes, below);
  const target = numbers[below(numbers.length)];
  const said = lies[below(lies.length)];
  const lied = text.slice(0, target.index) + said + text.slice(target.index + target[0].length);
  return new Uint8Array(Buffer.from(lied, 'latin1'));
};

/** All bits set or clear in four bytes: a lying binary count, or an infinite number. */
const stamp: Mutation = (bytes, below) => {
  const out = bytes.slice();
  const at = below(2) === 0 ? 80 : below(Math.max(1, out.length - 4));
  out.fill(below(2) === 0 ? 0xff : 0, at, at + 4);
  return out;
};

const splice: Mutation = (bytes, below) => {
  const from = below(bytes.length);
  const piece = bytes.slice(from, from + 1 + below(200));
  const at = below(bytes.length);
  return Uint8Array.of(...bytes.slice(0, at), ...piece, ...bytes.slice(at + below(50)));
};

const MUTATIONS: Mutation[] = [cut, flip, lie, stamp, splice];
const RUNS = 300;
/** No file of a kilobyte may keep a reader longer, ms. */
const PATIENCE = 2000;

async function outcomeOf(bytes: Uint8Array, size: number): Promise<string> {
  try {
    const { mesh } = await openSculpt(dripSource('fuzzed', bytes, size), { unit: 'mm', scale: 1 });
    expect(mesh.triangles.every((v) => v < mesh.positions.length / 3)).toBe(true);
    expect(mesh.positions.every(Number.isFinite)).toBe(true);
    return 'opened';
  } catch (error) {
    if (error instanceof PegwrightError) return error.code;
    throw error;
  }
}

describe('damaged files end in a mesh or in a refusal', () => {
  it.each(everyFormat(frustum(4, 2, 6)))(
    `%s, ${RUNS} mutations from seed 41`,
    async (_, bytes) => {
      const below = randomBelow(41);
      const outcomes = new Map<string, number>();
      for (let run = 0; run < RUNS; run++) {
        let mutated = bytes;
        for (let n = 1 + below(2); n > 0; n--) mutated = MUTATIONS[below(MUTATIONS.length)](mutated, below);
        const started = performance.now();
        const outcome = await outcomeOf(mutated, 1 + below(400));
        expect(performance.now() - started).toBeLessThan(PATIENCE);
        outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
      }
      // The mutations must reach past the first check: some files open, and refusals are of several kinds.
      expect(outcomes.get('opened')).toBeGreaterThan(RUNS / 50);
      expect(outcomes.size).toBeGreaterThan(3);
    },
    60_000,
  );

  it('packed files, 200 mutations from seed 43', async () => {
    const packed = await gzipped(everyFormat(frustum(4, 2, 6))[3][1]);
    const below = randomBelow(43);
    for (let run = 0; run < 200; run++) {
      const mutate = [cut, flip, splice][below(3)];
      const started = performance.now();
      await outcomeOf(mutate(packed, below), 1 + below(400));
      expect(performance.now() - started).toBeLessThan(PATIENCE);
    }
  }, 60_000);
});
