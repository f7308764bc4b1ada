/** Device names that some systems keep for themselves, whatever the ending. */
const RESERVED = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i;

/** A file name (without ending) a person recognises and every file system takes. */
export function fileStem(name: string): string {
  const plain = name
    .normalize('NFC')
    .replace(/[\p{C}<>:"/\\|?*]+/gu, ' ')
    .trim()
    .replace(/\s+/g, '-')
    .replace(/^\.+/, '');
  const short = shortened(plain).replace(/[.-]+$/, '');
  return RESERVED.test(short) ? `${short}-part` : short || 'part';
}

/** A name has at most so many letters, and bytes: two of them, a number and an ending are 255 bytes at the most. */
const MOST_LETTERS = 80;
const MOST_BYTES = 120;

/** The whole letters (with their accents and joins) of a name that there is room for. */
function shortened(name: string): string {
  let bytes = 0;
  let kept = '';
  for (const { segment, index } of new Intl.Segmenter(undefined, { granularity: 'grapheme' }).segment(name)) {
    bytes += new TextEncoder().encode(segment).length;
    if (bytes > MOST_BYTES || index >= MOST_LETTERS) break;
    kept += segment;
  }
  return kept;
}

/** One file name per part, in order: "<figure>-<part>.<ending>", numbered where two would be the same. */
export function partFileNames(figure: string, partNames: readonly string[], ending: string): string[] {
  const used = new Set<string>();
  return partNames.map((name) => {
    const stem = figure === name ? fileStem(figure) : `${fileStem(figure)}-${fileStem(name)}`;
    let file = `${stem}.${ending}`;
    for (let n = 2; used.has(file.toLowerCase()); n++) file = `${stem}-${n}.${ending}`;
    used.add(file.toLowerCase());
    return file;
  });
}
