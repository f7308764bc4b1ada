import { strFromU8, unzipSync } from 'fflate';
import { type GltfDraft, glb, zipped } from './scene-files.ts';

/** Seeded damage to files: cut, flipped, lied in, stamped and spliced, also within packages and scenes. */

export type Below = (n: number) => number;
export type Mutation = (bytes: Uint8Array, below: Below) => Uint8Array;

/** A small seeded generator (mulberry32) of whole numbers below `n`. */
export function randomBelow(seed: number): Below {
  let state = seed;
  return (n) => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return Math.floor((((t ^ (t >>> 14)) >>> 0) / 2 ** 32) * n);
  };
}

export const cut: Mutation = (bytes, below) => bytes.slice(0, below(bytes.length));

export const flip: Mutation = (bytes, below) => {
  const out = bytes.slice();
  for (let n = 1 + below(8); n > 0; n--) out[below(out.length)] ^= 1 << below(8);
  return out;
};

/** Numbers that counts and indices like to lie with. */
const LIES = [
  '4294967295',
  '-1',
  '99999999999999999999',
  '0',
  '1e9',
  'nan',
  '0.5',
  '2147483648',
  '1e308',
  '3',
];

/** One of those, put where a number was. */
export const lie: Mutation = (bytes, below) => {
  const text = Buffer.from(bytes).toString('latin1');
  const numbers = [...text.matchAll(/\d+/g)];
  if (numbers.length === 0) return flip(bytes, below);
  const target = numbers[below(numbers.length)];
  const said = LIES[below(LIES.length)];
  const lied = text.slice(0, target.index) + said + text.slice(target.index + target[0].length);
  return new Uint8Array(Buffer.from(lied, 'latin1'));
};

/** All bits set or clear in four bytes: a lying binary count, or an infinite number. */
export const stamp: Mutation = (bytes, below) => {
  const out = bytes.slice();
  const at = below(2) === 0 ? 80 : below(Math.max(1, out.length - 4));
  out.fill(below(2) === 0 ? 0xff : 0, at, at + 4);
  return out;
};

export const splice: Mutation = (bytes, below) => {
  const from = below(bytes.length);
  const piece = bytes.slice(from, from + 1 + below(200));
  const at = below(bytes.length);
  return new Uint8Array(Buffer.concat([bytes.slice(0, at), piece, bytes.slice(at + below(50))]));
};

export const MUTATIONS: readonly Mutation[] = [cut, flip, lie, stamp, splice];

/** One or two of the plain ones. */
export const mutate: Mutation = (bytes, below) => {
  let mutated = bytes;
  for (let n = 1 + below(2); n > 0 && mutated.length > 0; n--)
    mutated = MUTATIONS[below(MUTATIONS.length)](mutated, below);
  return mutated;
};

/** Damage to a package from outside, most of it to its lists, or to one of its files, well packed again. */
export const mutatePackage: Mutation = (bytes, below) => {
  if (below(3) === 0) return mutate(bytes, below);
  if (below(3) === 0) {
    const lists = bytes.slice();
    for (let n = 1 + below(3); n > 0; n--)
      lists[lists.length - 1 - below(300)] = [0, 0xff, below(256)][below(3)];
    return lists;
  }
  const files: Record<string, Uint8Array> = unzipSync(bytes);
  const names = Object.keys(files);
  const name = below(5) > 0 ? '3D/3dmodel.model' : names[below(names.length)];
  files[name] = mutateText(files[name], below);
  return zipped(files, below(2) === 0 ? 0 : 6);
};

/** Damage to a GLB from outside, or to its description, well packed again. */
export const mutateGlb: Mutation = (bytes, below) => {
  if (below(3) === 0) return mutate(bytes, below);
  const length = new DataView(bytes.buffer, bytes.byteOffset).getUint32(12, true);
  const text = mutateText(bytes.subarray(20, 20 + length), below);
  const bin = bytes.slice(28 + length);
  try {
    return glb({
      json: JSON.parse(strFromU8(text)) as GltfDraft,
      bin: below(4) === 0 ? flip(bin, below) : bin,
    });
  } catch {
    return flip(bytes, below); // the damage left no JSON
  }
};

/** Mostly numbers that lie: other damage seldom gets past a text's grammar. */
const mutateText: Mutation = (bytes, below) => (below(3) > 0 ? lie : mutate)(bytes, below);
