import { KINDS } from './file-words.ts';
import { guess, list, outside, type Words } from './said.ts';

/** What is looked for in a table, as people say it. */
const WANTED: Readonly<Record<string, string>> = {
  temperature: 'temperature',
  humidity: 'humidity',
  end: 'meter reading',
  serial: 'serial number',
};

const ORDERS = { day_first: 'day first', month_first: 'month first', year_first: 'year first' } as const;

const quoted = (texts: readonly string[]): string[] => texts.map((text) => `"${text}"`);

/** Tables of a logger, or of batches, in files of their own. */
export const TABLE_WORDS = {
  'table-unreadable': ({ table, why }) => ({
    say: `The table "${table}" cannot be read: ${why}.`,
    mend: 'Check its name, which counts from the folder of the trial file.',
  }),
  'table-other-kind': ({ table, kind }) => ({
    say: `"${table}" is ${KINDS[kind]}, and no CSV file.`,
    mend: kind === 'utf-16' ? 'Save it again as UTF-8.' : 'Export the table as CSV, in UTF-8.',
  }),
  'table-outside': ({ table }) => outside('table', table),
  'table-too-large': ({ table, mebibytes }) => ({
    say: `The table "${table}" has more than ${mebibytes} MiB.`,
    mend: 'Keep the rows of the trial and take the others out.',
  }),
  'table-too-long': ({ table, most }) => ({
    say: `The table "${table}" has more than ${most} rows.`,
    mend: 'Keep the rows of the trial and take the others out.',
  }),
  'table-empty': ({ table }) => ({
    say: `The table "${table}" has no row below its heading.`,
    mend: 'Check that it is the right file.',
  }),
  'row-without-serial': () => ({
    say: 'This row names no cartridge.',
    mend: 'Write its serial number, or a number you put on the box: cartridges are counted by it.',
  }),
  'table-without-heading': ({ table, first, wanted }) => ({
    say: `No heading of the table "${table}" says where the ${list(wanted.map((key) => WANTED[key] ?? key))} is. Its first line is: ${first}`,
    mend: `Say which column it is, by its heading: columns: {${wanted[0] ?? ''}: T1}. The cells are set apart by commas, semicolons or tabs.`,
  }),
  'column-not-there': ({ table, heading, headings, nearest }) => ({
    say: `The table "${table}" has no column "${heading}".`,
    mend: guess(nearest, headings.slice(0, 20)),
  }),
  'column-twice': ({ table, key, headings }) => ({
    say: `The table "${table}" has more than one column for ${key}: ${list(quoted(headings), 'and')}.`,
    mend: `Say which one it is: columns: {${key}: "${headings[0] ?? ''}"}.`,
  }),
  'table-row': ({ at, fault, got, expected, commas }) => {
    if (fault === 'open-quote')
      return {
        say: `At ${at} a quotation mark is opened and never closed.`,
        mend: 'Close it, or take it out.',
      };
    if (fault === 'long-line')
      return { say: `The line at ${at} is longer than any row.`, mend: 'Check that it is the right file.' };
    return {
      say: `The row at ${at} has ${got} cells; the heading has ${expected}.`,
      mend:
        commas && got > expected
          ? 'Where decimals have a comma, a comma cannot set the cells apart too: export the table with semicolons or tabs.'
          : 'Mend the row, or take it out.',
    };
  },
  'decimals-mixed': ({ at, written }) => ({
    say: `At ${at} "${written}" has another decimal sign than the rows before.`,
    mend: 'Write all decimals of the table with a point, or all with a comma.',
  }),
  'decimals-unclear': ({ at, written }) => ({
    say: `At ${at} the comma of "${written}" may stand before decimals or part thousands, and no other row tells.`,
    mend: 'Say which beside "file": decimal_mark: comma, or decimal_mark: point.',
  }),
  'days-mixed': ({ at, written }) => ({
    say: `At ${at} the day of "${written}" is written in another order than the rows before.`,
    mend: 'Write all days of the table in one order, best as 2026-03-09.',
  }),
  'days-unclear': ({ at, written, readings }) => ({
    say: `At ${at} "${written}" can be ${list(readings)}, and no other row tells.`,
    mend: 'Say which beside "file": day_order: day_first, or day_order: month_first.',
  }),
  'table-read': ({ table, rows, kept, columns, order }) => ({
    say: `${table}: ${rows} ${rows === 1 ? 'row' : 'rows'}; ${list(
      columns.map(({ key, headings }) => `${key} from ${list(quoted(headings), 'and')}`),
      'and',
    )}${order === null ? '' : `; days are read ${ORDERS[order]}`}.`,
    mend:
      kept === rows
        ? ''
        : `Of so many rows ${kept} are reckoned with, the least and greatest of every stretch among them; a mean is that of these.`,
  }),
} satisfies Partial<Words>;
