export const MINUS = '\u2212';

/** A thin space that no line breaks at: it parts thousands, and no reader takes it for a decimal sign. */
const THIN = '\u202f';

/** One formatter for each number of decimals: making one costs more than all its uses. */
const formatters = new Map<number, Intl.NumberFormat>();

/** A number for reading: fixed decimals, a true minus sign, thousands a thin space apart; a dash for none. */
export function numeral(value: number, decimals = 2): string {
  if (!Number.isFinite(value)) return '–';
  let formatter = formatters.get(decimals);
  if (!formatter) {
    formatter = new Intl.NumberFormat('en', {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      signDisplay: 'negative',
    });
    formatters.set(decimals, formatter);
  }
  return formatter.format(value).replaceAll(',', THIN).replace('-', MINUS);
}

/** A measured number with no more decimals than it has a use for: one from a hundred on, else three figures or three decimals. */
export const measuredNumeral = (value: number): string => numeral(value, Math.abs(value) >= 100 ? 1 : 3);

/** A number with as many figures as a very small or very large one needs: three. */
export function threeFigures(value: number): string {
  const rounded = Number(value.toPrecision(3));
  const decimals = rounded === 0 ? 0 : Math.max(0, 2 - Math.floor(Math.log10(Math.abs(rounded))));
  if (decimals > 20) return rounded.toExponential().replaceAll('-', MINUS);
  return numeral(rounded, decimals)
    .replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '');
}
