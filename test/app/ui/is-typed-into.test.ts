import { describe, expect, it } from 'vitest';
import { isTypedInto } from '../../../app/ui/is-typed-into.ts';

const input = (type: string) => isTypedInto({ tagName: 'INPUT', isContentEditable: false, type });
const other = (tagName: string, isContentEditable = false) => isTypedInto({ tagName, isContentEditable });

describe('keys that are typed', () => {
  it('belong to a field of text, of whatever kind', () => {
    for (const type of ['text', 'search', 'number', 'email', 'url', 'tel', 'password', 'date', 'time']) {
      expect(input(type), type).toBe(true);
    }
    expect(other('TEXTAREA')).toBe(true);
    expect(other('SELECT')).toBe(true);
    expect(other('DIV', true)).toBe(true);
  });

  it('are the page’s own on a slider, a box to tick or a button', () => {
    for (const type of [
      'range',
      'checkbox',
      'radio',
      'button',
      'submit',
      'reset',
      'image',
      'file',
      'color',
    ]) {
      expect(input(type), type).toBe(false);
    }
    expect(other('BUTTON')).toBe(false);
    expect(other('DIV')).toBe(false);
  });
});
