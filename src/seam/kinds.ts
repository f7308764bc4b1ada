import type { SeamSpec } from '../model/seam-schema.ts';
import type { SeamKind } from './kind.ts';
import { contactKind } from './kinds/contact.ts';
import { planeKind } from './kinds/plane.ts';
import { sheetKind } from './kinds/sheet.ts';

/** Every kind of seam there is. */
const KINDS: { readonly [K in SeamSpec['kind']]: SeamKind<SeamSpec & { kind: K }> } = {
  plane: planeKind,
  contact: contactKind,
  sheet: sheetKind,
};

/** How a seam divides. */
export const seamKind = ({ kind }: SeamSpec): SeamKind => KINDS[kind];
