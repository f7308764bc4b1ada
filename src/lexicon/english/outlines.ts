import type { OutlineFault } from '../../errors/outline-fault.ts';
import { LIMITS } from '../../model/limits.ts';
import { count, mm, whole } from './speech.ts';

/** What is wrong with a person's own outline. */

/** To stand in brackets, or after what it is about. */
export function outlineFaultWords(fault: OutlineFault): string {
  switch (fault.is) {
    case 'not-svg':
      return 'it is no SVG drawing';
    case 'path':
      return `its path cannot be read from sign ${whole(fault.at)} on`;
    case 'none':
      return 'there is no closed outline in it';
    case 'several':
      return `there are ${whole(fault.count)} outlines in it, and a peg has one`;
    case 'too-few':
      return `an outline of ${count(fault.corners, 'corner')} has no area, it takes ${whole(fault.limit)}`;
    case 'too-many':
      return `an outline of ${count(fault.corners, 'corner')} is too fine, at most ${whole(fault.limit)} can be made`;
    case 'too-small':
      return `an outline ${mm(fault.mm)} across is too small, it takes ${mm(fault.limit)}`;
    case 'too-far':
      return `an outline that reaches ${mm(fault.mm)} from its axis is too large, ${mm(fault.limit)} is the most`;
    case 'crossed':
      return 'an outline must not cross or touch itself';
  }
}

const WAYS: Record<OutlineFault['is'], string> = {
  'not-svg': 'save it as plain SVG and open that',
  path: 'correct it there',
  none: 'draw one as a path, a polygon, a rectangle, a circle or an ellipse',
  several: 'leave one and delete the others',
  'too-few': 'add corners',
  'too-many': `draw it with fewer corners than ${whole(LIMITS.outlineCorners[1])}`,
  'too-small': 'draw it larger',
  'too-far': 'draw it smaller',
  crossed: 'move the sides that do apart',
};

/** What is wrong with a drawing, and what to do. */
export const outlineRefusal = (file: string | null, fault: OutlineFault): string => {
  const sentence = `${outlineFaultWords(fault)}; ${WAYS[fault.is]}.`;
  return file === null ? sentence[0]!.toUpperCase() + sentence.slice(1) : `${file}: ${sentence}`;
};
