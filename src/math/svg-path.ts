import { flatArc, flatCubic } from './flat-curves.ts';
import type { Vec2 } from './vec3.ts';

/** The runs of a path, or the place of the first sign (from 1) that is none of a path's. */
export type ReadPath = { runs: Vec2[][] } | { wrongAt: number };

/** How many numbers each command takes. */
const TAKES: Readonly<Record<string, number>> = {
  M: 2,
  L: 2,
  H: 1,
  V: 1,
  C: 6,
  S: 4,
  Q: 4,
  T: 2,
  A: 7,
  Z: 0,
};

const SPACE = /[\s,]*/y;
const NUMBER = /[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
const FLAG = /[01]/y;

/**
 * The data of an SVG path (SVG 1.1, §8.3) as runs of points in its own units and directions, curves flattened to within
 * `chord`. A run that is not closed ends where its last command does.
 */
export function readSvgPath(data: string, chord: number): ReadPath {
  const pen = new Pen(chord);
  let at = 0;
  const take = (what: RegExp): string | null => {
    what.lastIndex = at;
    const [found] = what.exec(data) ?? [];
    if (found === undefined) return null;
    at += found.length;
    return found;
  };
  for (let command = ''; ; ) {
    take(SPACE);
    if (at === data.length) return { runs: pen.runs };
    const start = at;
    const sign = data[at]!;
    const isNew = TAKES[sign.toUpperCase()] !== undefined;
    if (isNew) at++;
    // What follows a place to move to without a command of its own is drawn to (§8.3.2).
    else if (command === 'M' || command === 'm') command = command === 'M' ? 'L' : 'l';
    if (isNew) command = sign;
    const isFirst = pen.runs.length === 0;
    const kind = command.toUpperCase();
    if (command === '' || (isFirst && kind !== 'M') || (!isNew && kind === 'Z'))
      return { wrongAt: start + 1 };
    const numbers: number[] = [];
    for (let k = 0; k < TAKES[kind]!; k++) {
      take(SPACE);
      const found = take(kind === 'A' && (k === 3 || k === 4) ? FLAG : NUMBER);
      if (found === null) return { wrongAt: at + 1 };
      numbers.push(Number(found));
    }
    pen.draw(kind, numbers, command !== kind);
  }
}

/** Where a path has come to. */
class Pen {
  readonly runs: Vec2[][] = [];
  readonly #chord: number;
  #at: Vec2 = [0, 0];
  #start: Vec2 = [0, 0];
  /** The last control point of a curve of either kind, for one that goes on smoothly. */
  #bend: { of: 'C' | 'Q'; point: Vec2 } | null = null;
  #isClosed = false;

  constructor(chord: number) {
    this.#chord = chord;
  }

  draw(kind: string, n: readonly number[], isRelative: boolean): void {
    const [x, y] = isRelative ? this.#at : [0, 0];
    const place = (k: number): Vec2 => [x + n[k]!, y + n[k + 1]!];
    const bent = this.#bend;
    this.#bend = null;
    if (kind === 'M') this.#begin(place(0));
    else if (kind === 'Z') this.#close();
    else if (kind === 'L') this.#to([place(0)]);
    else if (kind === 'H') this.#to([[x + n[0]!, this.#at[1]]]);
    else if (kind === 'V') this.#to([[this.#at[0], y + n[0]!]]);
    else if (kind === 'C') this.#cubic(place(0), place(2), place(4));
    else if (kind === 'S') this.#cubic(this.#mirrored(bent, 'C'), place(0), place(2));
    else if (kind === 'Q') this.#quadratic(place(0), place(2));
    else if (kind === 'T') this.#quadratic(this.#mirrored(bent, 'Q'), place(0));
    else {
      const arc = { from: this.#at, to: place(5), radii: [n[0]!, n[1]!] as const, turnDeg: n[2]! };
      this.#to(flatArc({ ...arc, isLarge: n[3] === 1, isPositive: n[4] === 1 }, this.#chord));
    }
  }

  #close(): void {
    this.#at = this.#start;
    this.#isClosed = true;
  }

  #begin(at: Vec2): void {
    this.runs.push([at]);
    this.#at = at;
    this.#start = at;
    this.#isClosed = false;
  }

  #to(points: readonly Vec2[]): void {
    // What is drawn after closing begins where the run closed (§8.3.3).
    if (this.#isClosed) this.#begin(this.#at);
    this.runs.at(-1)!.push(...points);
    this.#at = points.at(-1)!;
  }

  #cubic(a: Vec2, b: Vec2, to: Vec2): void {
    this.#to(flatCubic([this.#at, a, b, to], this.#chord));
    this.#bend = { of: 'C', point: b };
  }

  /** As the cubic it is: a third of each end's way from the control point. */
  #quadratic(control: Vec2, to: Vec2): void {
    const towards = (end: Vec2): Vec2 => [
      end[0] + (2 / 3) * (control[0] - end[0]),
      end[1] + (2 / 3) * (control[1] - end[1]),
    ];
    this.#cubic(towards(this.#at), towards(to), to);
    this.#bend = { of: 'Q', point: control };
  }

  #mirrored(bent: { of: 'C' | 'Q'; point: Vec2 } | null, of: 'C' | 'Q'): Vec2 {
    const [x, y] = this.#at;
    return bent?.of === of ? [2 * x - bent.point[0], 2 * y - bent.point[1]] : this.#at;
  }
}
