/** One line of the bench's table. */
export interface Row {
  what: string;
  /** Our figure, with its unit. */
  ours: string;
  /** What it is held against, measured in the same run. */
  against?: string;
  /** Ours divided by the other. */
  ratio?: string;
  goal?: string;
  /** For the screen only: left out of the README. */
  detail?: boolean;
}

/** A part of the bench: measures and gives its lines. Nothing is asserted on time. */
export type Part = () => Row[] | Promise<Row[]>;

/** The middle value; of an even number the upper of the two in the middle. @throws RangeError for none. */
export function median(values: readonly number[]): number {
  const middle = [...values].sort((a, b) => a - b)[values.length >> 1];
  if (middle === undefined) throw new RangeError('no values');
  return middle;
}

/** How long one run of some work takes, ms. */
export async function timed(work: () => unknown): Promise<number> {
  const began = performance.now();
  await work();
  return performance.now() - began;
}

/** Median time of several runs, ms, after one that does not count. */
export async function medianTime(runs: number, work: () => unknown): Promise<number> {
  const times: number[] = [];
  await work();
  for (let i = 0; i < runs; i += 1) times.push(await timed(work));
  return median(times);
}

/**
 * Median times of several works, ms, taking turns, so that a machine that is
 * busier for a while is so for all of them.
 */
export async function inTurns<K extends string>(runs: number, works: Readonly<Record<K, () => unknown>>): Promise<Record<K, number>> {
  const names = Object.keys(works) as K[];
  const times = new Map<K, number[]>(names.map((name) => [name, []]));
  for (const name of names) await works[name]();
  for (let i = 0; i < runs; i += 1) for (const name of names) times.get(name)?.push(await timed(works[name]));
  return Object.fromEntries(names.map((name) => [name, median(times.get(name) ?? [])])) as Record<K, number>;
}

export const ms = (value: number): string => `${value < 1 ? value.toFixed(3) : value < 100 ? value.toFixed(1) : value.toFixed(0)} ms`;
export const kb = (bytes: number): string => `${(bytes / 1000).toFixed(1)} kB`;
export const times = (ratio: number): string => `${ratio >= 10 ? ratio.toFixed(0) : ratio.toFixed(2)} ×`;

const COLUMNS = ['what', 'ours', 'against', 'ratio', 'goal'] as const;
const HEADS = ['what', 'Tendbook', 'against', 'ratio', 'goal'];
const cells = (row: Row): string[] => COLUMNS.map((column) => row[column] ?? '');

/** The lines as one table for the terminal. */
export function table(rows: readonly Row[]): string {
  const lines = [HEADS, ...rows.map(cells)];
  const widths = HEADS.map((_, column) => Math.max(...lines.map((line) => line[column]?.length ?? 0)));
  const draw = (line: readonly string[]): string =>
    line
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd();
  return [draw(HEADS), widths.map((w) => '-'.repeat(w)).join('  '), ...lines.slice(1).map(draw)].join('\n');
}

/** The lines as a Markdown table for the README, details left out. */
export function markdown(rows: readonly Row[]): string {
  const draw = (line: readonly string[]): string => `| ${line.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  return [draw(HEADS), draw(HEADS.map(() => '---')), ...rows.filter((row) => !row.detail).map((row) => draw(cells(row)))].join('\n');
}
