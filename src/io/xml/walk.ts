import type { Feed } from '../bytes/feed.ts';
import { fromUtf16, utf16Of } from '../text/utf16.ts';
import { XmlScanner } from './scanner.ts';

/** Told of every tag of a document; what it needs of a tag it takes from the scanner at once. */
export interface XmlVisitor {
  open(scanner: XmlScanner): void;
  close?(scanner: XmlScanner): void;
}

export const keyword = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Walks an XML document in UTF-8 or UTF-16. @throws PegwrightError for what is no sound XML or declares a type. */
export async function walkXml(
  feed: Feed,
  pieces: AsyncIterable<Uint8Array>,
  visitor: XmlVisitor,
): Promise<void> {
  const scanner = new XmlScanner(feed);
  for await (const piece of inUtf8(pieces)) {
    scanner.load(piece);
    for (let step = scanner.next(); step !== 'more'; step = scanner.next()) {
      if (step === 'open') visitor.open(scanner);
      else visitor.close?.(scanner);
    }
  }
  scanner.finish();
}

async function* inUtf8(pieces: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  const iterator = pieces[Symbol.asyncIterator]();
  try {
    const first = await iterator.next();
    if (first.done) return;
    async function* all() {
      yield first.value as Uint8Array;
      yield* { [Symbol.asyncIterator]: () => iterator };
    }
    const encoding = utf16Of(first.value);
    yield* encoding === null ? all() : fromUtf16(encoding, all());
  } finally {
    await iterator.return?.();
  }
}
