import { describe, expect, it } from 'vitest';
import { initialState } from '../../../app/state/bench-state.ts';
import { mirroredNames } from '../../../app/state/mirror-names.ts';
import { words } from '../../../app/words.ts';
import { demoJob, planeSeam, type Seam } from '../../../src/index.ts';

const seamOf = (id: string, of: string, front: string, back: string): Seam => ({
  id,
  of,
  by: planeSeam([1, 0, 0], 5),
  pegOn: 'back',
  names: { front, back },
  joints: [],
});
/** What the image of the first of some seams is called that divides the part `of`. */
const named = (seams: Seam[], of: string) =>
  mirroredNames(initialState({ ...demoJob, seams }, 'light'), seams[0]!, of);

describe('the names of a mirror image', () => {
  it('have left and right in each other’s place, and what lies between them in the middle', () => {
    expect(named([seamOf('s', 'sculpt', 'right', 'left')], 's.back')).toEqual({
      front: 'left',
      back: 'middle',
    });
    expect(named([seamOf('s', 'sculpt', 'body', 'Left arm')], 's.front')).toEqual({
      front: 'body',
      back: 'Right arm',
    });
  });

  it('are numbered where a part has them already', () => {
    expect(named([seamOf('s', 'sculpt', 'upper', 'lower')], 's.front')).toEqual({
      front: 'upper',
      back: 'lower 2',
    });
    const two = [seamOf('s', 'sculpt', 'hand', 'body'), seamOf('t', 's.back', 'hand 2', 'rest')];
    expect(named(two, 't.back')).toEqual({ front: 'hand 3', back: 'body' });
  });

  it('take words for sides as they are written, and nothing else', () => {
    expect(words.mirroredName('ARM LEFT, upper')).toBe('ARM RIGHT, upper');
    expect(words.mirroredName('arm L')).toBe('arm R');
    expect(words.mirroredName('l-shaped bright cleft')).toBe('l-shaped bright cleft');
    expect(words.mirroredName('constructor')).toBe('constructor');
    expect(words.nameBetween('Right side')).toBe('Middle side');
  });
});
