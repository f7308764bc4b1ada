import { PegwrightError } from '../../errors.ts';
import type { SheetSpec } from '../../model/seam-schema.ts';
import type { Bound } from '../bounded/bound-trace.ts';
import type { SculptPlace, SeamKind } from '../kind.ts';
import { sheetProfile } from '../sheet/profile.ts';
import { cutBySheet, sheetOutline } from '../sheet/sheet-cut.ts';

/** A seam by a line swept through the figure, through all outlines that it meets or some of them. */
export const sheetKind: SeamKind<SheetSpec> = {
  cut(kernel, [part], by, seamId, place) {
    const found = sheetProfile(by, place);
    if ('is' in found) throw new PegwrightError('seam-line-folds', { seamId, is: found.is, at: found.at });
    const { swept, astray, ...cut } = cutBySheet(
      kernel,
      part,
      found.profile,
      seamId,
      place.middle,
      boundOf(by, place),
    );
    const isClear = cut.facets.every(({ uncut }) => uncut.length === 0);
    return { ...cut, draw: { axis: swept.along, isClear, playMm: 0, swept, astray } };
  },
  outline(_, [part], by, place) {
    const found = sheetProfile(by, place);
    return 'is' in found ? [] : sheetOutline(part, found.profile, place.middle, boundOf(by, place));
  },
  follow: (_, __, by) => by,
  narrowest: () => null,
  squared: () => null,
};

const boundOf = ({ through }: SheetSpec, { originMm }: SculptPlace): Bound | undefined =>
  through && { through, originMm };
