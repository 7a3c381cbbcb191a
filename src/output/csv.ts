import { harmlessWhole } from './harmless.ts';

/** Comma-separated values: RFC 4180, with nothing a spreadsheet would take for a formula. */

/** Something that stands in a cell. */
export type Cell = string | number | boolean | null;

/** A text without control characters; one that begins like a formula gets an apostrophe, a number stays. */
function harmlessCell(text: string): string {
  const plain = harmlessWhole(text);
  return /^\s*[=+@-]/.test(plain) && !/^-?[0-9.]+$/.test(plain) ? `'${plain}` : plain;
}

function cell(value: Cell): string {
  if (value === null) return '';
  const text = typeof value === 'string' ? harmlessCell(value) : String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** One line of a table, ending in CR LF. */
export const csvLine = (row: readonly Cell[]): string => `${row.map(cell).join(',')}\r\n`;

/** A table as CSV, lines ending in CR LF. */
export const csv = (heads: readonly string[], rows: readonly (readonly Cell[])[]): string =>
  [heads, ...rows].map(csvLine).join('');
