import type { PegResult, Vec2 } from './engine.ts';
import type { PegShape } from './peg-shape.ts';

/** Every word the drawings say, in one place. */

const mm = (value: number): string => `${value.toFixed(1)} mm`;

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
  wallTooThin: (value: number) => `wall ${value.toFixed(2)}, too thin`,
  breaksSkin: 'through the skin',
  place: ([x, y]: Vec2) => `${x.toFixed(1)}, ${y.toFixed(1)}`,
  detail: (letter: string, ratio: number) => `${letter} (${ratio} : 1)`,
  peg: (index: number) => `Peg ${index + 1}`,
  pegLabel: (index: number, s: PegShape, wallMm: number | null, broken: boolean) =>
    `Peg ${index + 1}: ${mm(s.widthMm)} wide, ${mm(s.heightMm)} high, at ${mm(s.uv[0])} across, ${mm(s.uv[1])} up, ` +
    `spin ${s.spinDeg.toFixed(0)}°, ${broken ? 'through the skin' : wallMm === null ? 'wall unknown' : `wall ${wallMm.toFixed(2)} mm`}`,
  mean: (measured: PegResult['sideGapMm']) => measured?.mean.toFixed(2) ?? 'not measured',
  spread: (what: string, s: PegResult['sideGapMm']) =>
    s
      ? `${what}, measured on the finished parts: least ${s.min.toFixed(3)}, mean ${s.mean.toFixed(3)}, greatest ${s.max.toFixed(3)} mm`
      : `${what}: nothing is left of the surfaces to measure`,
  inThisCut: (what: string) => `${what}, measured in this cut`,
  sideGap: 'Side gap',
  endGap: 'End gap',
  leastWall: (value: number) => `least wall ${value.toFixed(2)}`,
} as const;
