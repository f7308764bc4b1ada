import { checkUnpacked } from './feed.ts';

/** All pieces behind each other. @throws PegwrightError `file-unpacks-too-big` past what memory should hold at once. */
export async function gather(
  file: string,
  pieces: AsyncIterable<Uint8Array>,
): Promise<Uint8Array<ArrayBuffer>> {
  const taken: Uint8Array[] = [];
  let length = 0;
  for await (const piece of pieces) {
    length += piece.length;
    checkUnpacked(file, length);
    taken.push(piece);
  }
  const bytes = new Uint8Array(length);
  let at = 0;
  for (const piece of taken) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}
