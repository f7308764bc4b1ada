const PLUS = 43;
const MINUS = 45;
const DOT = 46;
const ZERO = 48;
const LOWER = 32;
const E = 101;

/** Powers of ten that doubles hold exactly. */
const TENS = Array.from({ length: 23 }, (_, e) => 10 ** e);
/** Digits a double holds exactly whatever they are. */
const EXACT_DIGITS = 15;
/** Larger exponents are left to the fallback, and counting stops before it overflows. */
const EXPONENT_STOP = 9999;
/** Longest number made into a string; no sensible one is longer. */
const LONGEST_NUMBER = 1000;

/**
 * The decimal number that is all of `bytes` from `start` to `end`, rounded as `Number` would; NaN for anything
 * else, blanks and hexadecimals too.
 *
 * Up to 15 digits and a power of ten up to 22 are both exact in a double, so one multiplication
 * or division rounds once and rightly (Clinger, *How to Read Floating Point Numbers Accurately*, 1990).
 * Everything else goes through `Number`.
 */
export function readDecimal(bytes: Uint8Array, start: number, end: number): number {
  const negative = bytes[start] === MINUS;
  let at = negative || bytes[start] === PLUS ? start + 1 : start;
  let value = 0;
  let digits = 0;
  let point = -1;
  const first = at;
  for (; at < end; at++) {
    const c = bytes[at];
    if ((c - ZERO) >>> 0 < 10) {
      value = value * 10 + (c - ZERO);
      if (value > 0) digits++;
    } else if (c === DOT && point < 0) point = at;
    else break;
  }
  const fraction = point < 0 ? 0 : at - point - 1;
  if (at - first - (point < 0 ? 0 : 1) <= 0) return Number.NaN;
  const written = at < end ? readExponent(bytes, at, end) : 0;
  if (Number.isNaN(written)) return Number.NaN;
  const exponent = written - fraction;
  if (digits > EXACT_DIGITS || exponent < -22 || exponent > 22) return slowly(bytes, start, end);
  const size = exponent < 0 ? value / TENS[-exponent] : value * TENS[exponent];
  return negative ? -size : size;
}

/** The power of ten that "e" and the rest of the number give; NaN where that is something else. */
function readExponent(bytes: Uint8Array, start: number, end: number): number {
  if ((bytes[start] | LOWER) !== E) return Number.NaN;
  const negative = bytes[start + 1] === MINUS;
  let at = negative || bytes[start + 1] === PLUS ? start + 2 : start + 1;
  if (at >= end) return Number.NaN;
  let power = 0;
  for (; at < end; at++) {
    const digit = (bytes[at] - ZERO) >>> 0;
    if (digit >= 10) return Number.NaN;
    if (power < EXPONENT_STOP) power = power * 10 + digit;
  }
  return negative ? -power : power;
}

function slowly(bytes: Uint8Array, start: number, end: number): number {
  return end - start > LONGEST_NUMBER
    ? Number.NaN
    : Number(String.fromCharCode(...bytes.subarray(start, end)));
}
