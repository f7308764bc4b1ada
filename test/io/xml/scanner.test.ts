import fc from 'fast-check';
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import type { Feed } from '../../../src/io/bytes/feed.ts';
import { keyword, walkXml } from '../../../src/io/xml/walk.ts';
import { utf8 } from '../../support/mesh-files.ts';

async function* none() {}
const feed: Feed = { file: 'a.3mf', format: '3mf', byteLength: null, pieces: none(), beside: [] };

async function* inPieces(bytes: Uint8Array, size: number) {
  for (let at = 0; at < bytes.length; at += size) yield bytes.slice(at, at + size);
}

const NAMES = ['a', 'b', 'vertex'];
const ATTRIBUTES = ['x', 'y', 'name'];

/** What the scanner saw: a line for each tag, with namespace, name and the attributes known above. */
async function scanned(bytes: Uint8Array, size: number): Promise<string[]> {
  const seen: string[] = [];
  const nameOf = (tag: Parameters<Parameters<typeof walkXml>[2]['open']>[0]) =>
    NAMES.find((name) => tag.isNamed(keyword(name))) ?? '?';
  await walkXml(feed, inPieces(bytes, size), {
    open(tag) {
      const attributes = ATTRIBUTES.map((name) => tag.text(keyword(name)) ?? '-');
      seen.push(
        `<{${tag.uri}}${nameOf(tag)} ${attributes.join('|')} ${tag.textIn('urn:p', keyword('x')) ?? '-'}`,
      );
    },
    close(tag) {
      seen.push(`>${nameOf(tag)}`);
    },
  });
  return seen;
}

/** The same by a library that goes by the whole of XML. */
function parsed(text: string): string[] {
  const seen: string[] = [];
  const parser = new SaxesParser({ xmlns: true });
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ uri, local, attributes }) => {
    const plain = ATTRIBUTES.map((name) => attributes[name]?.value ?? '-');
    const prefixed = Object.values(attributes).find((a) => a.uri === 'urn:p' && a.local === 'x');
    seen.push(`<{${uri}}${local} ${plain.join('|')} ${prefixed?.value ?? '-'}`);
  });
  parser.on('closetag', ({ local }) => {
    seen.push(`>${local}`);
  });
  parser.write(text).close();
  return seen;
}

const value = fc.constantFrom('1.5', '-3e4', 'a &amp; b', '&#x41;&#66;', 'Käfer 🐞', "it's", '&lt;', '');
const attributes = fc
  .record({ x: value, y: value, name: value, 'p:x': value }, { requiredKeys: [] })
  .map((record) =>
    Object.entries(record)
      .map(([name, text]) => ` ${name}="${text}"`)
      .join('  '),
  );
const space = fc.constantFrom('', ' ', '\n\t');
const scope = fc.constantFrom('', ' xmlns="urn:one"', ' xmlns="urn:two"', ' xmlns:q="urn:p"', ' xmlns=""');
const between = fc.constantFrom('', 'text > text', '<!-- <a> no tag -->', '<![CDATA[<b>]]>', '<?do <a> ?>');

const { element } = fc.letrec<{ element: string; content: string }>((tie) => ({
  content: fc.array(fc.oneof(between, tie('element')), { maxLength: 4 }).map((parts) => parts.join('')),
  element: fc.oneof(
    { maxDepth: 4 },
    fc
      .tuple(fc.constantFrom(...NAMES), attributes, scope, space)
      .map(([n, a, s, w]) => `<${n}${s}${a}${w}/>`),
    fc
      .tuple(fc.constantFrom(...NAMES, 'p:a'), attributes, scope, space, tie('content'))
      .map(([n, a, s, w, content]) => `<${n}${s}${a}${w}>${content}</${n}${w}>`),
  ),
}));
const document = element.map((root) => `<?xml version="1.0"?>\n<a xmlns:p="urn:p">${root}</a>\n`);

describe('the XML scanner', () => {
  it('sees what a full parser sees, however the bytes are cut, seed 67', async () => {
    await fc.assert(
      fc.asyncProperty(document, fc.integer({ min: 1, max: 60 }), async (text, size) => {
        expect(await scanned(utf8(text), size)).toEqual(parsed(text));
      }),
      { seed: 67, numRuns: 400 },
    );
  });

  it.each(['utf-16le', 'utf-16be'] as const)('reads %s with and without its mark', async (encoding) => {
    const text = '<?xml version="1.0" encoding="UTF-16"?><a xmlns="urn:one" name="Käfer 🐞"/>';
    for (const mark of ['\ufeff', '']) {
      const bytes = Buffer.from(mark + text, 'utf16le');
      if (encoding === 'utf-16be') bytes.swap16();
      for (const size of [4, 7, 1000]) {
        expect(await scanned(new Uint8Array(bytes), size)).toEqual(['<{urn:one}a -|-|Käfer 🐞 -', '>a']);
      }
    }
  });

  const refused: [what: string, text: string, code: string][] = [
    ['a document type', '<!DOCTYPE a [<!ENTITY x "y">]><a/>', 'file-feature-unknown'],
    ['an entity of its own', '<a name="&x;"/>', 'file-malformed'],
    ['a closing tag of another name', '<a></b>', 'file-malformed'],
    ['a value without quotes', '<a x=1/>', 'file-malformed'],
    ['an attribute without value', '<a x/>', 'file-malformed'],
    ['an end before its last tag closes', '<a><b>', 'file-truncated'],
    ['an end within a tag', '<a><b x="1', 'file-truncated'],
    ['more levels than any model has', '<a>'.repeat(300), 'file-too-many'],
  ];
  it.each(refused)('refuses %s', async (_, text, code) => {
    await expect(scanned(utf8(text), 1000)).rejects.toMatchObject({ code });
  });

  it('refuses a tag that never ends before it fills the memory', async () => {
    async function* endless() {
      yield utf8('<a x="');
      for (;;) yield new Uint8Array(1 << 20).fill(97);
    }
    const walk = walkXml(feed, endless(), { open: () => undefined });
    await expect(walk).rejects.toMatchObject({ code: 'file-malformed' });
  });
});
