import Papa from 'papaparse';
import type { Place } from './source.ts';

/** A table of more bytes than this is refused unread. */
export const LARGEST_TABLE = 32 * 1024 * 1024;

/** A longer line is no logger's. */
const LONGEST_LINE = 20_000;

/** One row of a table that is told apart by a sign between its cells. */
export interface Row {
  readonly cells: readonly string[];
  /** Where it begins in the text. */
  readonly offset: number;
  /** The line it begins on, counted from 1. */
  readonly line: number;
}

/** A quotation mark that is never closed. */
export interface OpenQuote {
  readonly line: number;
}

/** A text with one kind of line ends, as tables are read. */
export const withPlainLines = (text: string): string => text.replace(/\r\n?/g, '\n');

/**
 * Gives the rows of a text with plain line ends one after the other, those of nothing but blanks left out; it keeps
 * none of them. `take` returns false to stop.
 */
export function eachRow(text: string, delimiter: string, take: (row: Row) => boolean): OpenQuote | null {
  let [offset, line] = [0, 1];
  let fault: OpenQuote | null = null;
  const parser = new Papa.Parser({
    delimiter,
    newline: '\n',
    step: ({ data, errors, meta }) => {
      const [cells] = data as unknown as string[][];
      if (errors.some(({ code }) => code === 'MissingQuotes')) fault = { line };
      const goesOn =
        fault === null && (!cells?.some((cell) => cell.trim() !== '') || take({ cells, offset, line }));
      for (
        let at = text.indexOf('\n', offset);
        at !== -1 && at < meta.cursor;
        at = text.indexOf('\n', at + 1)
      )
        line += 1;
      offset = meta.cursor;
      if (!goesOn) parser.abort();
    },
  });
  parser.parse(text, 0, false);
  return fault;
}

/** The first line that is too long for a table; null where none is. */
export function longLine(text: string): number | null {
  let line = 1;
  for (let from = 0; from < text.length; line += 1) {
    const end = text.indexOf('\n', from);
    const to = end === -1 ? text.length : end;
    if (to - from > LONGEST_LINE) return line;
    from = to + 1;
  }
  return null;
}

/** Where a cell begins, counted from 0, in the row at `offset`. */
export function placeOfCell(text: string, { offset, line }: Row, cell: number, delimiter: string): Place {
  let at = offset;
  let [row, begins] = [line, offset];
  for (let passed = 0, quoted = false; passed < cell && at < text.length; at += 1) {
    const sign = text[at];
    if (sign === '"') quoted = !quoted;
    else if (sign === delimiter && !quoted) passed += 1;
    else if (sign === '\n' && !quoted) break;
    else if (sign === '\n') [row, begins] = [row + 1, at + 1];
  }
  while (text[at] === ' ') at += 1;
  return { line: row, column: at - begins + 1 };
}

/** The line of a text that a row begins on. */
export function lineAt(text: string, place: Place, row: Row): string {
  let from = row.offset;
  for (let line = row.line; line < place.line; line += 1) from = text.indexOf('\n', from) + 1;
  const end = text.indexOf('\n', from);
  return text.slice(from, end === -1 ? text.length : end);
}
