/** One line of the bench's table. Times are medians (or what `what` says), ms. */
export interface Row {
  what: string;
  figure: string;
  triangles: number;
  ours: number;
  /** What it is held against, measured in the same run; null where there is none. */
  reference: number | null;
  against: string;
  /** ours / reference. */
  ratio: number | null;
  /** What the ratio, or what `what` names, should stay below; null where it is only reported. */
  atMost: number | null;
  /** True where every result was closed; null where nothing was made. */
  closed: boolean | null;
  unit: 'ms' | 'MB' | 'exponent' | 'times';
}

export const row = (
  what: string,
  { name, triangles }: { name: string; triangles: number },
  ours: number,
  rest: Partial<Row> = {},
): Row => ({
  what,
  figure: name,
  triangles,
  ours,
  reference: null,
  against: '',
  atMost: null,
  closed: null,
  unit: 'ms',
  ...rest,
  ratio: rest.reference ? ours / rest.reference : null,
});

export const percentile = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(values.length * share))];

export const median = (values: readonly number[]): number => percentile(values, 0.5);

export async function timed(work: () => unknown): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

const shown = (value: number | null) =>
  value === null ? '' : value.toFixed(value < 0.1 ? 3 : value < 10 ? 2 : 0);

export const TABLE_HEAD = `| what | figure | triangles | ours | reference | ratio | at most | closed | held against |
|---|---|---|---|---|---|---|---|---|`;

export function tableLine(r: Row): string {
  const unit = r.unit === 'ms' || r.unit === 'MB' ? ` ${r.unit}` : '';
  const cells = [
    r.what,
    r.figure,
    r.triangles.toLocaleString('en'),
    `${shown(r.ours)}${unit}`,
    r.reference === null ? '' : `${shown(r.reference)}${unit}`,
    shown(r.ratio),
    r.atMost === null ? '' : `${r.atMost}`,
    r.closed === null ? '' : r.closed ? 'yes' : 'no',
    r.against,
  ];
  return `| ${cells.join(' | ')} |`;
}
