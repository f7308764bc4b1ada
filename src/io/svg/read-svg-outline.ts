import type { OutlineFault } from '../../errors/outline-fault.ts';
import { PegwrightError } from '../../errors.ts';
import { readSvgPath } from '../../math/svg-path.ts';
import type { Vec2 } from '../../math/vec3.ts';
import { CURVE_CHORD_MM, type Outline, outlineOfPath, outlineOfRuns } from '../../model/outline.ts';
import { keyword, walkXml, type XmlVisitor } from '../xml/walk.ts';
import { type Affine2, applied, compose, mostStretch, readTransform } from './affine-2d.ts';
import { type Attribute, shapePath } from './shape-path.ts';

/**
 * The outline of an SVG drawing in mm: of the only closed shape in it, curves flattened, its middle on the joint's axis
 * and y up. Text that is no drawing is taken as the data of a path, one unit a millimetre. `file` is null for what was
 * typed. @throws PegwrightError `outline-refused`.
 */
export async function readSvgOutline(file: string | null, text: string): Promise<Outline> {
  const read = text.includes('<') ? outlineOfRuns(await runsOf(file, text)) : outlineOfPath(text);
  if ('fault' in read) throw refusal(file, read.fault);
  return read.outline;
}

const refusal = (file: string | null, fault: OutlineFault) =>
  new PegwrightError('outline-refused', { file, fault });

/** What holds shapes that are only drawn where something refers to them. */
const NOT_DRAWN = ['defs', 'symbol', 'clipPath', 'mask', 'marker', 'pattern', 'metadata'];

const NAMES = ['svg', 'g', 'a', 'path', 'polygon', 'polyline', 'rect', 'circle', 'ellipse', ...NOT_DRAWN].map(
  (name) => [name, keyword(name)] as const,
);

/** A declaration of a document type says nothing of what is drawn; entities are not followed. */
const DOCTYPE = /<!doctype[^[>]*(?:\[[^\]]*\])?[^>]*>/i;

/** All shapes of a drawing as runs in mm. */
async function runsOf(file: string | null, text: string): Promise<Vec2[][]> {
  const runs: Vec2[][] = [];
  /** The map of each element that is open to mm, null where nothing is drawn; the first is of the drawing itself. */
  const maps: (Affine2 | null)[] = [];
  const visitor: XmlVisitor = {
    open(scanner) {
      const attribute = (name: string) => scanner.text(keyword(name));
      const element = NAMES.find(([, word]) => scanner.isNamed(word))?.[0] ?? '';
      if (maps.length === 0 && element !== 'svg') throw refusal(file, { is: 'not-svg' });
      const around = maps.length === 0 ? viewOf(attribute) : maps.at(-1)!;
      const own = readTransform(attribute('transform') ?? '');
      if (own === null) throw refusal(file, { is: 'not-svg' });
      const isDrawn = around !== null && !NOT_DRAWN.includes(element) && !isHidden(attribute);
      const map = isDrawn ? compose(around, own) : null;
      maps.push(map);
      const data = map && shapePath(element, attribute);
      if (map && data) runs.push(...runsInMm(file, data, map));
    },
    close: () => void maps.pop(),
  };
  const bytes = new TextEncoder().encode(text.replace(DOCTYPE, ''));
  async function* pieces() {
    yield bytes;
  }
  const feed = {
    file: file ?? '',
    format: 'svg',
    byteLength: bytes.length,
    pieces: pieces(),
    beside: [],
  } as const;
  try {
    await walkXml(feed, feed.pieces, visitor);
  } catch (thrown) {
    // What the scanner has against a document is all one here: it is no drawing.
    if (thrown instanceof PegwrightError && thrown.code !== 'outline-refused')
      throw refusal(file, { is: 'not-svg' });
    throw thrown;
  }
  return runs;
}

const isHidden = (attribute: Attribute): boolean =>
  attribute('display') === 'none' || /display\s*:\s*none/.test(attribute('style') ?? '');

function runsInMm(file: string | null, data: string, map: Affine2): Vec2[][] {
  const read = readSvgPath(data, CURVE_CHORD_MM / Math.max(1e-9, mostStretch(map)));
  if ('wrongAt' in read) throw refusal(file, { is: 'path', at: read.wrongAt });
  return read.runs.map((run) => run.map((at) => applied(map, at)));
}

/** Millimetres of SVG's units of length; a pixel is a 96th of an inch (CSS 2.1, §4.3.2). */
const UNIT_MM: Readonly<Record<string, number>> = {
  '': 25.4 / 96,
  px: 25.4 / 96,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
  in: 25.4,
  cm: 10,
  mm: 1,
};

/** The map from a drawing's units to mm: its width (or height) over that of its view box (SVG 1.1, §7.7). */
function viewOf(attribute: Attribute): Affine2 {
  const box = (attribute('viewBox') ?? '')
    .trim()
    .split(/[\s,]+/)
    .map(Number);
  const scales = (['width', 'height'] as const).flatMap((name, k) => {
    const [, number, unit] = /^\s*([\d.eE+-]+)\s*([a-z]*)\s*$/.exec(attribute(name) ?? '') ?? [];
    const mm = Number(number) * (UNIT_MM[unit ?? ''] ?? Number.NaN);
    return mm > 0 && box[2 + k]! > 0 ? [mm / box[2 + k]!] : [];
  });
  // A drawing keeps its proportions: what is left over of the other direction is empty.
  const scale = scales.length > 0 ? Math.min(...scales) : UNIT_MM['']!;
  return [scale, 0, 0, scale, 0, 0];
}
