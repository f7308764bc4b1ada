import { isNode, type Node, parseSource, walk } from './syntax.ts';

/**
 * The rule that words for people stand in the lexicon alone, and a checker of it. Outside it no text in a source may hold
 * two words in a row, and what an element of the page shows or reads aloud not even one.
 */

/**
 * Where words may stand: the lexicon itself; the generator of the demo, a tool with a usage of its own; and the writers of
 * files, whose content is the same in every language.
 */
const EXEMPT: readonly RegExp[] = [/^src\/lexicon\//, /^src\/demo\//, /^src\/io\/\w+\/write\.ts$/];

/** Stands for what a template puts in, which may be a word of any kind. */
const PUT_IN = '\ue000';

/** Two words of two letters or more, or one beside what is put in, with nothing but blanks and signs of a sentence between. */
const WORDS_IN_A_ROW =
  /(\p{L}{2,}[,;:.!?…’”"')]*\s+[“”"'(]*(\p{L}{2,}|\ue000)|\ue000[,;:.!?”"']*\s+\p{L}{2,})/u;

const ANY_WORD = /\p{L}{2,}/u;

/** What all languages share: signs of units, and the name of the program. */
const SHARED = /(?<!\p{L})(mm|cm|µm|px|pegwright)(?!\p{L})[²³]?/giu;

/** What is written for a machine: shaders, queries of a style sheet, beginnings of markup. */
const FOR_MACHINES = /\b(vec[234]|gl_\w+)\b|^#include|^\([\w-]+: [\w-]+\)$|^<[!?a-z]/;

/** Attributes that a person sees or hears. */
const SPOKEN =
  /^(title|alt|label|placeholder|aria-(label|description|valuetext|roledescription|placeholder))$/;

/** Attributes whose words are none of any language. */
const UNSPOKEN = /^(className|d|transform|viewBox|style|points|placement)$/;

const nameOf = (node: Node): string => (isNode(node.name) ? String(node.name.name ?? '') : '');

const isAttribute = (node: Node, names: RegExp): boolean =>
  node.type === 'JSXAttribute' && names.test(nameOf(node));

/** An error that only programmers read, or an attribute that nobody does. */
const isUnspoken = (node: Node): boolean =>
  node.type === 'NewExpression'
    ? /^(Error|TypeError|RangeError)$/.test(String((node.callee as Node).name))
    : isAttribute(node, UNSPOKEN);

/** The text of a node that is one, with a mark for all that is put in. */
function textOf(node: Node): string | null {
  if (node.type === 'Literal') return typeof node.value === 'string' ? node.value : null;
  if (node.type === 'JSXText') return String(node.value);
  if (node.type !== 'TemplateLiteral') return null;
  const quasis = node.quasis as { value: { cooked?: string } }[];
  return quasis.map(({ value }) => value.cooked ?? '').join(PUT_IN);
}

/** Texts of a source that speak to a person. */
function spokenTexts(path: string, code: string): string[] {
  const found: string[] = [];
  walk(parseSource(path, code), (node, parent, _, above) => {
    const text = textOf(node)?.replace(SHARED, '');
    if (!text || FOR_MACHINES.test(text) || /^(Import|Export)/.test(parent.type)) return;
    if (above.some(isUnspoken)) return;
    const isShown = node.type === 'JSXText' || isAttribute(parent, SPOKEN);
    if ((isShown ? ANY_WORD : WORDS_IN_A_ROW).test(text)) found.push(text.replaceAll(PUT_IN, '…').trim());
  });
  return found;
}

/** Every text outside the lexicon that a person would read, one sentence each. Sources are text by repository path. */
export function findWords(sources: ReadonlyMap<string, string>): string[] {
  return [...sources].flatMap(([path, code]) =>
    EXEMPT.some((place) => place.test(path))
      ? []
      : spokenTexts(path, code).map((text) => `${path} says “${text}”, which is for the lexicon to say`),
  );
}
