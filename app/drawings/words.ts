import { numeral, type PegResult, type Vec2 } from './engine.ts';
import type { PegShape } from './peg-shape.ts';

/** Every word the drawings say, in one place. */

const mm = (value: number): string => `${numeral(value, 1)} mm`;

export const WORDS = {
  face: 'Face drawing',
  faceHelp:
    'Tab to a peg; arrows move it, Shift for larger steps, brackets spin it, plus and minus size it, Delete removes it. On the paper itself, arrows pan, plus and minus zoom, 0 fits.',
  addHelp: 'Arrows move the cross over the face; Enter sets a peg there.',
  section: 'Section drawing',
  noPeg: 'Choose a peg to see both parts cut through it.',
  noSection: 'The section of this peg is being worked out.',
  across: 'Cut across',
  width: 'width',
  height: 'height',
  tooThin: 'too thin',
  wallTooThin: (value: number) => `wall ${numeral(value, 2)}, too thin`,
  breaksSkin: 'through the skin',
  place: ([x, y]: Vec2) => `${numeral(x, 1)}, ${numeral(y, 1)}`,
  detail: (letter: string, ratio: number) => `${letter} (${ratio} : 1)`,
  peg: (index: number) => `Peg ${index + 1}`,
  pegLabel: (index: number, s: PegShape, wallMm: number | null, broken: boolean) =>
    `Peg ${index + 1}: ${mm(s.widthMm)} wide, ${mm(s.heightMm)} high, at ${mm(s.uv[0])} across, ${mm(s.uv[1])} up, ` +
    `spin ${numeral(s.spinDeg, 0)}°, ${broken ? 'through the skin' : wallMm === null ? 'wall unknown' : `wall ${numeral(wallMm, 2)} mm`}`,
  mean: (measured: PegResult['sideGapMm']) => (measured ? numeral(measured.mean) : 'not measured'),
  spread: (what: string, s: PegResult['sideGapMm']) =>
    s
      ? `${what}, measured on the finished parts: least ${numeral(s.min, 3)}, mean ${numeral(s.mean, 3)}, greatest ${numeral(s.max, 3)} mm`
      : `${what}: nothing is left of the surfaces to measure`,
  inThisCut: (what: string) => `${what}, measured in this cut`,
  sideGap: 'Side gap',
  endGap: 'End gap',
  leastWall: (value: number) => `least wall ${numeral(value, 2)}`,
} as const;
