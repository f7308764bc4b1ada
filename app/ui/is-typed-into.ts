/** What of an element tells whether it is typed into; `type` is an input's. */
export interface KeyTarget {
  tagName: string;
  isContentEditable: boolean;
  type?: string;
}

/** Inputs that are moved, ticked or pressed: of the keys they need only those that do so. */
const UNTYPED = /^(range|checkbox|radio|button|submit|reset|image|file|color)$/;

/** True where letters and Delete belong to what is being typed. */
export function isTypedInto({ tagName, isContentEditable, type = 'text' }: KeyTarget): boolean {
  if (isContentEditable) return true;
  if (tagName === 'INPUT') return !UNTYPED.test(type);
  return tagName === 'TEXTAREA' || tagName === 'SELECT';
}
