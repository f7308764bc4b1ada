import type { Vec2 } from '../../math/vec3.ts';
import type { Spread } from '../../section/gap.ts';
import { joints } from './joints.ts';
import { numbers, numeral } from './speech.ts';

/** Every word the drawings say. */

export const drawings = {
  face: 'Face drawing',
  faceHelp:
    'Tab to a peg; arrows move it, Shift for larger steps, brackets spin it, plus and minus size it, Delete removes it. On the paper itself, arrows pan, plus and minus zoom, 0 fits.',
  addHelp: 'Arrows move the cross over the face; Enter sets a peg there.',
  outlineHelp: 'A click sets a corner of the outline; Enter closes it, Backspace takes a corner back.',
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
  outlineChoice: (place: number) => `Outline ${place + 1} of the plane is cut`,
  peg: joints.number,
  pegLabel: joints.told,
  mean: (measured: Spread | null) => (measured ? numeral(measured.mean) : 'not measured'),
  spread: (what: string, s: Spread | null) =>
    s
      ? `${what}, measured on the finished parts: least ${numeral(s.min, 3)}, mean ${numeral(s.mean, 3)}, greatest ${numeral(s.max, 3)} mm`
      : `${what}: nothing is left of the surfaces to measure`,
  inThisCut: (what: string) => `${what}, measured in this cut`,
  sideGap: 'Side gap',
  endGap: 'End gap',
  /** The length of a scale bar, which is round. */
  scale: (lengthMm: number) => `${numbers.short(lengthMm, 9)} mm`,
  leastWall: (value: number) => `least wall ${numeral(value, 2)}`,
};
