import { ByteCursor } from '../bytes/cursor.ts';
import { type Feed, malformed, truncated } from '../bytes/feed.ts';
import type { RawMesh } from '../raw-mesh.ts';
import { textHead } from '../text/head.ts';
import { IO_TUNING } from '../tuning.ts';
import { readPlyBinary } from './binary.ts';
import { type PlyHeader, parsePlyHeader } from './header.ts';
import { readPlyText } from './text.ts';

/** Bytes whose first line is "ply". */
export const isPly = (head: Uint8Array): boolean =>
  /^ply[ \t]*[\r\n]/i.test(textHead(head.subarray(0, 16)) ?? '');

/** Reads a PLY file of any encoding: polygons (or triangle strips) over vertices with x, y and z. */
export async function readPly(feed: Feed): Promise<RawMesh> {
  const cursor = new ByteCursor(feed.pieces);
  const header = parsePlyHeader(feed, await takeHeader(feed, cursor));
  checkHeader(feed, header);
  return header.encoding === 'ascii'
    ? readPlyText(feed, header, cursor.rest())
    : readPlyBinary(feed, header, cursor);
}

/** The header's text; the cursor then stands at the first element. */
async function takeHeader(feed: Feed, cursor: ByteCursor): Promise<string> {
  for (;;) {
    const length = Math.min(cursor.available, IO_TUNING.headBytes);
    const bytes = new Uint8Array(cursor.view.buffer, cursor.view.byteOffset + cursor.at, length);
    const text = new TextDecoder('latin1').decode(bytes);
    // A return at the very end may be half of a pair, so one more byte must be there.
    const end = /[\r\n]end_header[ \t]*(\r\n|\n|\r(?=[\s\S]))/i.exec(text);
    if (end !== null) {
      const header = text.slice(0, end.index + end[0].length);
      cursor.at += header.length;
      return header;
    }
    if (length === IO_TUNING.headBytes) throw malformed(feed, { is: 'header-endless' });
    if (!(await cursor.more())) throw truncated(feed, 1, 0, 'header');
  }
}

/** Refuses headers that describe no polygon mesh. */
function checkHeader(feed: Feed, { elements }: PlyHeader): void {
  const vertex = elements.find((element) => element.name === 'vertex');
  for (const axis of ['x', 'y', 'z']) {
    const property = vertex?.properties.find(({ name }) => name === axis);
    if (property === undefined || property.length !== null)
      throw malformed(feed, { is: 'axis-missing', axis });
  }
  if (elements.filter(({ name }) => name === 'vertex').length > 1)
    throw malformed(feed, { is: 'vertices-twice' });
}
