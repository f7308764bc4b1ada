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
  const short = [...plain]
    .slice(0, 80)
    .join('')
    .replace(/[.-]+$/, '');
  return RESERVED.test(short) ? `${short}-part` : short || 'part';
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
