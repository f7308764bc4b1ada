/** What XML itself names (Extensible Markup Language 1.0, §4.6). */
const NAMED: Readonly<Record<string, string>> = { lt: '<', gt: '>', amp: '&', quot: '"', apos: "'" };

/** Text with its references put in; null where one is none of XML's own. */
export function expandReferences(raw: string): string | null {
  let isKnown = true;
  const text = raw.replace(/&([^;&]*);?/g, (_, name: string) => {
    const character = Object.hasOwn(NAMED, name) ? NAMED[name] : numbered(name);
    if (character === null) isKnown = false;
    return character ?? '';
  });
  return isKnown ? text : null;
}

/** The character of a number such as "#65" or "#x41". */
function numbered(name: string): string | null {
  const code = /^#(\d+|x[0-9a-f]+)$/i.exec(name)?.[1];
  if (code === undefined) return null;
  const point = Number(/^x/i.test(code) ? `0${code}` : code);
  return point > 0 && point <= 0x10ffff ? String.fromCodePoint(point) : null;
}
