import { PegwrightError } from '../../errors.ts';
import { type Feed, truncated } from '../bytes/feed.ts';
import type { RawMesh } from '../raw-mesh.ts';
import { type LineRules, lineBlocks } from './line-blocks.ts';
import type { TextScanner } from './scanner.ts';

/** A reader of a text format: takes what stands in the scanner's block, then makes the mesh. */
export interface LineReader {
  readonly scanner: TextScanner;
  /** Reads to the end of the block just loaded. */
  takeBlock(): void;
  finish(): RawMesh;
  /** See `LineRules`; without it a text with such a line is refused. */
  longLine?: LineRules['longLine'];
}

/**
 * Feeds a text to its reader, block by block.
 * @throws PegwrightError `file-truncated` where a last line without end makes no sense, whatever the reader
 *   has against it: that is how a text looks that was cut short.
 */
export async function readLines(
  feed: Feed,
  pieces: AsyncIterable<Uint8Array>,
  reader: LineReader,
  continues = false,
): Promise<RawMesh> {
  const { scanner } = reader;
  for await (const { bytes, isOpen } of lineBlocks(feed, pieces, { continues, longLine: reader.longLine })) {
    scanner.load(bytes);
    try {
      reader.takeBlock();
    } catch (error) {
      const isMalformed = error instanceof PegwrightError && error.code === 'file-malformed';
      throw isOpen && isMalformed ? truncated(feed, scanner.line, scanner.line - 1, 'lines') : error;
    }
  }
  return reader.finish();
}
