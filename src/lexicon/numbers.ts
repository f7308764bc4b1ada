/** The signs a language writes its numbers with. */
export interface NumberSigns {
  decimal: string;
  /** Parts thousands. */
  group: string;
}

export const MINUS = '\u2212';

/** A thin space that no line breaks at: it parts thousands, and no reader takes it for a decimal sign. */
export const THIN = '\u202f';

/** How a language writes numbers: with a true minus sign, and a dash for none. */
export interface Numbers {
  /** Fixed decimals, two if left out. */
  numeral(value: number, decimals?: number): string;
  /** A measured number with no more decimals than it has a use for: one from a hundred on, else three. */
  measured(value: number): string;
  /** With as many figures as a very small or very large number needs: three. */
  threeFigures(value: number): string;
  /** With so many decimals at most, and no more than it has. */
  short(value: number, decimals: number): string;
  /** As it stands in a field, to be typed over: thousands not apart, a hyphen for the minus sign, decimals as `short`. */
  typed(value: number, decimals: number): string;
}

/** One formatter for each number of decimals: making one costs more than all its uses. */
const formatters = new Map<number, Intl.NumberFormat>();

/** With thousands apart by commas, a decimal point and a hyphen, none of which stands for another. */
function plain(value: number, decimals: number): string {
  let formatter = formatters.get(decimals);
  if (!formatter) {
    formatter = new Intl.NumberFormat('en', {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      signDisplay: 'negative',
    });
    formatters.set(decimals, formatter);
  }
  return formatter.format(value);
}

const withoutEndingZeros = (text: string): string => text.replace(/(\.\d*?)0+$/, '$1').replace(/\.$/, '');

/** Writes numbers with a language's own signs. */
export function numbersWith({ decimal, group }: NumberSigns): Numbers {
  const signs: Record<string, string> = { '.': decimal, ',': group, '-': MINUS };
  const signed = (text: string) => text.replace(/[.,-]/g, (sign) => signs[sign]!);
  const written = (value: number, write: () => string) => (Number.isFinite(value) ? signed(write()) : '–');
  const numeral = (value: number, decimals = 2) => written(value, () => plain(value, decimals));
  const short = (value: number, decimals: number) =>
    written(value, () => withoutEndingZeros(plain(value, decimals)));
  return {
    numeral,
    measured: (value) => numeral(value, Math.abs(value) >= 100 ? 1 : 3),
    short,
    threeFigures(value) {
      const rounded = Number(value.toPrecision(3));
      const decimals = rounded === 0 ? 0 : Math.max(0, 2 - Math.floor(Math.log10(Math.abs(rounded))));
      return decimals > 20 ? signed(rounded.toExponential()) : short(rounded, decimals);
    },
    typed: (value, decimals) =>
      Number.isFinite(value)
        ? withoutEndingZeros(plain(value, decimals)).replaceAll(',', '').replace('.', decimal)
        : '',
  };
}
