import type { Vec3 } from '../../math/vec3.ts';
import { numbersWith, THIN } from '../numbers.ts';

/** What all sentences are made of. */

export const numbers = numbersWith({ decimal: '.', group: THIN });
export const { numeral } = numbers;

/** A length as people read it, mm. */
export const mm = (value: number, digits = 2): string => `${numeral(value, digits)} mm`;
/** The same with as many figures as a very small or very large one needs. */
export const length = (value: number): string => `${numbers.threeFigures(value)} mm`;
export const volume = (mm3: number): string => `${numbers.measured(mm3)} mm³`;
export const at = (p: Vec3 | readonly number[]): string => `(${[...p].map((v) => numeral(v, 1)).join(', ')})`;
export const vector = (v: Vec3): string => `(${v.map((x) => numeral(x, 0)).join(', ')})`;
export const whole = (n: number): string => numeral(n, 0);
export const count = (n: number, one: string, many = `${one}s`): string =>
  `${whole(n)} ${n === 1 ? one : many}`;
/** Several lengths, as sides of a box. */
export const sides = (lengths: readonly number[], decimals: number): string =>
  `${lengths.map((one) => numeral(one, decimals)).join(' × ')} mm`;
