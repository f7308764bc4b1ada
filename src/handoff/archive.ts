import { Zip, ZipDeflate } from 'fflate';

/** A file for the archive, its bytes made as they are asked for. */
export interface ArchiveEntry {
  name: string;
  chunks: Iterable<Uint8Array>;
}

/** Deflate effort: triangle coordinates hardly pack better at higher levels, only slower. */
const LEVEL = 1;

/** A zip archive in pieces, written entry by entry so that no file is held whole twice. */
export function zipArchive(entries: Iterable<ArchiveEntry>): Uint8Array<ArrayBuffer>[] {
  const pieces: Uint8Array<ArrayBuffer>[] = [];
  const zip = new Zip((error, piece) => {
    if (error) throw error;
    pieces.push(piece as Uint8Array<ArrayBuffer>);
  });
  for (const { name, chunks } of entries) {
    const file = new ZipDeflate(name, { level: LEVEL });
    zip.add(file);
    for (const chunk of chunks) file.push(chunk);
    file.push(new Uint8Array(0), true);
  }
  zip.end();
  return pieces;
}
