/** What a cell can hold; undefined where nothing was written down. */
export type Cell = string | number | boolean | undefined;

/**
 * A column of a table. Only `number` columns hold numbers that a spreadsheet
 * may take as such (with a decimal point); every other kind is text.
 */
export interface Column<Row> {
  /** In snake case, with its unit where it has one: `length_mm`. */
  name: string;
  kind: 'number' | 'day' | 'time' | 'code' | 'id' | 'yes or no' | 'text';
  /** What it holds, in a sentence. */
  about: string;
  of: (row: Row) => Cell;
}

/**
 * Beginnings that make a spreadsheet take a text for a formula [OWASP, CSV
 * injection: = + - @, tab, carriage return, line feed, and the full-width
 * forms], after blanks too, for some programs drop them.
 */
const LIKE_FORMULA = /^'*(?:\s*[=+\-@＝＋－＠]|[\t\r\n])/u;

/**
 * A text that no spreadsheet takes for a formula: one that begins like one gets
 * an apostrophe in front. So does one that begins like one after apostrophes,
 * which makes the way back exact: if a text begins with one or more apostrophes
 * and then like a formula, take one apostrophe away.
 */
export const inert = (text: string): string => (LIKE_FORMULA.test(text) ? `'${text}` : text);

/** A text between quotes always, so that a reader who splits at another sign than the comma finds no cell of its own within it. */
const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;

function cellText(value: Cell): string {
  if (value === undefined) return '';
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : '';
  return quoted(typeof value === 'boolean' ? (value ? 'yes' : 'no') : inert(value));
}

/** Excel reads a file without it in the code page of the country, and é is lost. Other readers skip it. */
const BYTE_ORDER_MARK = '\ufeff';

/**
 * A table as CSV (RFC 4180): comma, CRLF, a line of names first, in UTF-8 with
 * a byte order mark. A cell where nothing was written down is empty.
 */
export function csvText<Row>(columns: readonly Column<Row>[], rows: readonly Row[]): string {
  const lines = [columns.map((c) => quoted(c.name)), ...rows.map((row) => columns.map((c) => cellText(c.of(row))))];
  return BYTE_ORDER_MARK + lines.map((cells) => `${cells.join(',')}\r\n`).join('');
}
