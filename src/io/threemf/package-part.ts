import type { Feed } from '../bytes/feed.ts';
import { keyword, walkXml } from '../xml/walk.ts';
import type { Archive } from '../zip/archive.ts';

/** Where a package says what it is about, and the relation its 3MF model has to it (3MF Core Specification 1.4.0, §2.1.1, App. C). */
const RELATIONS = '_rels/.rels';
const START_PART = 'http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel';

const RELATIONSHIP = keyword('Relationship');
const TYPE = keyword('Type');
const TARGET = keyword('Target');

/** The model part that a package starts from; null for an archive that names none it has. */
export async function findStartPart(feed: Feed, archive: Archive): Promise<string | null> {
  if (!archive.has(RELATIONS)) return null;
  let start: string | null = null;
  await walkXml(feed, archive.pieces(RELATIONS), {
    open(tag) {
      if (start === null && tag.isNamed(RELATIONSHIP) && tag.text(TYPE) === START_PART)
        start = tag.text(TARGET);
    },
  });
  return start === null ? null : partName(start);
}

/** A part's name, "." and ".." resolved; no name leads out of the package. */
export function partName(reference: string): string {
  const steps: string[] = [];
  for (const step of percentDecoded(reference).split(/[\\/]+/)) {
    if (step === '..') steps.pop();
    else if (step !== '' && step !== '.') steps.push(step);
  }
  return steps.join('/');
}

function percentDecoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
