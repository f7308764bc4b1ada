import { measuredNumeral, numeral, threeFigures } from '../math/numeral.ts';
import type { Vec3 } from '../math/vec3.ts';

/** What all sentences are made of. */

/** A length as people read it, mm. */
export const mm = (value: number, digits = 2): string => `${numeral(value, digits)} mm`;
/** The same with as many figures as a very small or very large one needs. */
export const length = (value: number): string => `${threeFigures(value)} mm`;
export const volume = (mm3: number): string => `${measuredNumeral(mm3)} mm³`;
export const at = (p: Vec3 | readonly number[]): string => `(${[...p].map((v) => numeral(v, 1)).join(', ')})`;
export const vector = (v: Vec3): string => `(${v.map((x) => numeral(x, 0)).join(', ')})`;
export const whole = (n: number): string => numeral(n, 0);
export const count = (n: number, one: string, many = `${one}s`): string =>
  `${whole(n)} ${n === 1 ? one : many}`;

/** What seams, and parts by their ids (`seam.front`), are called where a sentence names one. */
export interface Names {
  seam(id: string): string;
  part(id: string): string;
}

/** By their ids, as a job's own text has them. */
export const AS_WRITTEN: Names = { seam: (id) => id, part: (id) => id };
