import { MM_PER_UNIT, UNITS, type Unit } from '../../src/index.ts';
import { words } from '../words.ts';

/**
 * Numbers as people type them: decimal comma or point, thousands apart, units and simple sums.
 * A lone comma or point is a decimal sign; of two kinds the last is, and the other parts thousands, as does one that
 * comes several times, a blank or an apostrophe.
 */

/** What a field counts in. */
export type FieldUnit = 'mm' | '°' | '';

/** Signs that every language knows: of units (SI Brochure, 9th edition), and marks of inches and feet. */
const SIGNS: Readonly<Record<string, Unit>> = {
  mm: 'mm',
  cm: 'cm',
  m: 'm',
  µm: 'micron',
  um: 'micron',
  '"': 'inch',
  "'": 'foot',
};

/** Lengths by all that they may be typed with, the page's own words among them. */
const MM_PER: Readonly<Record<string, number>> = Object.fromEntries([
  ...Object.entries(SIGNS).map(([sign, unit]) => [sign, MM_PER_UNIT[unit]] as const),
  ...UNITS.flatMap((unit) =>
    words.unitWords[unit].map((word) => [word.toLowerCase(), MM_PER_UNIT[unit]] as const),
  ),
]);

const DEGREES_PER: Readonly<Record<string, number>> = {
  '°': 1,
  rad: 180 / Math.PI,
  ...Object.fromEntries(words.degreeWords.map((word) => [word.toLowerCase(), 1])),
};

const FACTORS: Record<FieldUnit, Readonly<Record<string, number>>> = { mm: MM_PER, '°': DEGREES_PER, '': {} };

type Token = { is: 'number'; value: number } | { is: 'unit'; factor: number } | { is: 'sign'; sign: string };

/** A value under way, and whether a unit has been given for it. */
interface Quantity {
  value: number;
  hasUnit: boolean;
}

/** The number that a text means, in the field's own unit; null where it means none. */
export function readNumber(text: string, unit: FieldUnit): number | null {
  const tokens = tokensOf(plainText(text), FACTORS[unit]);
  if (tokens === null || tokens.length === 0) return null;
  const sum = new Sum(tokens).read();
  return sum !== null && Number.isFinite(sum) ? sum : null;
}

/** Look-alikes made one: full-width digits, the signs of sums, quotes, blanks, vulgar fractions set off. */
function plainText(text: string): string {
  return text
    .replace(/[¼-¾⅐-⅞]/g, ' $&')
    .replace(/[″“”]|''|’’|′′/g, '"')
    .normalize('NFKC')
    .replace(/[\u2212\u2012-\u2014]/g, '-')
    .replace(/[×·∙]/g, '*')
    .replace(/[÷:\u2044]/g, '/')
    .replace(/[’′‘]/g, "'")
    .replace(/μ/g, 'µ')
    .replace(/\s+/g, ' ')
    .trim()
    .toLowerCase();
}

function tokensOf(text: string, units: Readonly<Record<string, number>>): Token[] | null {
  const tokens: Token[] = [];
  for (let rest = text; rest !== ''; ) {
    const number = /^(?:\d[\d.,]*(?:[ '](?=\d{3}(?!\d))[\d.,]+)*|[.,]\d+)(?:e[+-]?\d+)?/.exec(rest)?.[0];
    const word = /^(?:\p{L}+|["'°])/u.exec(rest)?.[0];
    if (number) {
      const value = numberOf(number);
      if (value === null) return null;
      tokens.push({ is: 'number', value });
      rest = rest.slice(number.length);
    } else if (word) {
      const factor = units[word];
      if (factor === undefined) return null;
      tokens.push({ is: 'unit', factor });
      rest = rest.slice(word.length);
    } else if ('+-*/()'.includes(rest[0]!)) {
      tokens.push({ is: 'sign', sign: rest[0]! });
      rest = rest.slice(1);
    } else if (rest[0] === ' ') rest = rest.slice(1);
    else return null;
  }
  return tokens;
}

/** One number without a sign; null where its commas and points make no sense. */
function numberOf(written: string): number | null {
  const [digits = '', exponent = '0'] = written.split('e');
  const joined = digits.replace(/[ ']/g, '');
  const last = Math.max(joined.lastIndexOf(','), joined.lastIndexOf('.'));
  const mark = joined[last] ?? '';
  const isDecimal = last >= 0 && joined.indexOf(mark) === last;
  const whole = isDecimal ? joined.slice(0, last) : joined;
  if (!/^(\d*|\d{1,3}([.,])\d{3}(\2\d{3})*)$/.test(whole)) return null;
  const fraction = isDecimal ? joined.slice(last + 1) : '';
  return Number(`${whole.replace(/[.,]/g, '') || '0'}.${fraction || '0'}e${exponent}`);
}

/** Reads sums, products, brackets and signs by recursive descent; null as soon as something is out of place. */
class Sum {
  readonly #tokens: readonly Token[];
  #at = 0;

  constructor(tokens: readonly Token[]) {
    this.#tokens = tokens;
  }

  read(): number | null {
    const sum = this.#sum();
    return sum !== null && this.#at === this.#tokens.length ? sum.value : null;
  }

  #sum(): Quantity | null {
    let sum = this.#product();
    for (let sign = this.#take('+-'); sum !== null && sign !== null; sign = this.#take('+-')) {
      const next = this.#product();
      if (next === null) return null;
      const value = sign === '+' ? sum.value + next.value : sum.value - next.value;
      sum = { value, hasUnit: sum.hasUnit || next.hasUnit };
    }
    return sum;
  }

  /** A unit counts once: 1/2 in is half an inch, and an inch times an inch is no length. */
  #product(): Quantity | null {
    let product = this.#signed();
    for (let sign = this.#take('*/'); product !== null && sign !== null; sign = this.#take('*/')) {
      const next = this.#signed();
      if (next === null || (product.hasUnit && next.hasUnit)) return null;
      const unit = next.unit ?? 1;
      const plain = next.value / unit;
      const value = sign === '*' ? product.value * plain : product.value / plain;
      product = { value: value * unit, hasUnit: product.hasUnit || next.hasUnit };
    }
    return product;
  }

  #signed(): (Quantity & { unit?: number }) | null {
    const sign = this.#take('+-');
    const part = this.#part();
    return part && sign === '-' ? { ...part, value: -part.value } : part;
  }

  /** A number, perhaps with a fraction behind it (3 1/2), or a bracket; then perhaps its unit. */
  #part(): (Quantity & { unit?: number }) | null {
    let quantity: Quantity | null;
    if (this.#take('(') !== null) {
      quantity = this.#sum();
      if (this.#take(')') === null) return null;
    } else quantity = this.#number();
    const token = this.#tokens[this.#at];
    if (quantity === null || token?.is !== 'unit') return quantity;
    if (quantity.hasUnit) return null;
    this.#at++;
    return { value: quantity.value * token.factor, hasUnit: true, unit: token.factor };
  }

  #number(): Quantity | null {
    const [token, above, slash, below] = this.#tokens.slice(this.#at, this.#at + 4);
    if (token?.is !== 'number') return null;
    this.#at++;
    const isMixed =
      above?.is === 'number' && slash?.is === 'sign' && slash.sign === '/' && below?.is === 'number';
    if (!isMixed) return { value: token.value, hasUnit: false };
    this.#at += 3;
    return { value: token.value + above.value / below.value, hasUnit: false };
  }

  #take(signs: string): string | null {
    const token = this.#tokens[this.#at];
    if (token?.is !== 'sign' || !signs.includes(token.sign)) return null;
    this.#at++;
    return token.sign;
  }
}
