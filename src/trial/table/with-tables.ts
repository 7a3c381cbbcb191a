import { lastKey, type Path } from '../../uncertainty/path.ts';
import type { Fault, Problem } from '../../problems/problem.ts';
import type { Data, Source } from '../../text/source.ts';
import { eachRow, lineAt, longLine, placeOfCell, type Row, withPlainLines } from '../../text/table.ts';
import { knownKeys } from '../schema/at.ts';
import { problemsOf } from '../schema/issues.ts';
import { type TableData, tableSchema } from '../schema/table.ts';
import * as z from '../schema/zod.ts';
import { at, replaced } from '../document/in-place.ts';
import { nearest } from '../nearest.ts';
import { BESIDE, readTime } from '../time.ts';
import { DayEvidence, isoTime, readingsOfDay, type DayOrder } from '../days.ts';
import { DecimalEvidence, type DecimalMark, numberIn, plainNumber } from './decimals.ts';
import { findingData } from './findings.ts';
import { type Columns, columnsOf, type Heading, headingOf } from './headings.ts';
import { MOST_WHOLE, Thinning } from './thin.ts';

/** A table as it was opened. */
export interface TableText {
  /** The name it is shown by. */
  readonly file: string;
  readonly text: string;
}

/** Opens a table by the name a trial gives it, or says what keeps it from being opened. */
export type OpenTable = (name: string) => TableText | Fault;

/** For whoever reads a trial from its text alone. */
export const noTables: OpenTable = (table) => ({ code: 'table-unreadable', table, why: 'it was not opened' });

/** Rows of the longest table: half a year of a reading every minute and a quarter. */
const MOST_ROWS = 200_000;

/** What can stand in a table: the batches first, since their times say which readings of the air count. */
const TABLES: readonly (readonly [path: Path, most: number])[] = [
  [['batches'], MOST_WHOLE],
  [['reference', 'batches'], MOST_WHOLE],
  [['inspection'], MOST_WHOLE],
  [['reference', 'inspection'], MOST_WHOLE],
  [['ambient'], MOST_ROWS],
  [['reference', 'ambient'], MOST_ROWS],
];

/** Keys of a row that hold a time, and those that hold words. */
const TIMES: ReadonlySet<string> = new Set(['at', 'started', 'finished']);
const WORDS: ReadonlySet<string> = new Set([
  ...(['note', 'other', 'serial', 'lot', 'slot', 'stage', 'part', 'severity', 'photo'] as const),
]);

/** Of which columns of a list at least one is looked for. */
const WANTED: Readonly<Record<string, readonly string[]>> = {
  ambient: ['temperature', 'humidity'],
  batches: ['end'],
  inspection: ['serial'],
};

/** What a logger writes where it has no reading. */
const NO_READING = /^(?:|-{1,3}|n\/?a|nan|null|none)$/i;
const NONE = /^none$/i;

/** A trial's data with the rows of its tables in place of their names, and where everything stands. */
export interface Tabled {
  readonly data: Data;
  readonly source: Source;
  readonly problems: readonly Problem[];
}

/** Reads the tables that a trial names; what is wrong with one leaves its list out as if it had not been read yet. */
export function withTables(source: Source, schema: z.Schema, open: OpenTable): Tabled {
  let { data } = source;
  const read: TableRead[] = [];
  const problems: Problem[] = [];
  for (const [path, most] of TABLES) {
    const named = at(data, path);
    if (named === null || typeof named !== 'object' || !Object.hasOwn(named, 'file')) continue;
    const found = readNamed(named, path, [...knownKeys(schema, [...path, 0])], most, bordersOf(data), open);
    problems.push(...found.problems.map((problem) => ({ ...problem, path: [...path, ...problem.path] })));
    if (found.table) read.push({ ...found.table, path });
    data = replaced(data, path, found.table?.rows.map(({ data: row }) => row) ?? null);
  }
  return { data, source: read.length === 0 ? source : placedIn(source, read), problems };
}

/** The times, in seconds, at which printing begins or ends, and when readings beside it begin or cease to count. */
function bordersOf(data: Data): readonly number[] {
  const times = [
    ...['started', 'finished'].map((key) => at(data, ['trial', key])),
    ...(['batches'] as const).flatMap((key) => {
      const batches = at(data, [key]);
      return Array.isArray(batches)
        ? batches.flatMap((batch) => [at(batch, ['started']), at(batch, ['finished'])])
        : [];
    }),
  ];
  return times
    .flatMap((time) => {
      const read = typeof time === 'string' ? readTime(time) : null;
      if (read === null || 'fault' in read) return [];
      const { seconds } = read.value;
      return [seconds - BESIDE, seconds, seconds + BESIDE];
    })
    .toSorted((a, b) => a - b);
}

const asItStands = (row: Readonly<Record<string, Data>>): Data => row;

/** A row as data, and where it stands. */
interface TableRow {
  readonly data: Data;
  readonly row: Row;
}

interface TableRead {
  readonly path: Path;
  readonly file: string;
  readonly text: string;
  readonly delimiter: string;
  readonly headings: readonly Heading[];
  readonly columns: Columns;
  readonly rows: readonly TableRow[];
}

/** A table by what stands in its place; paths of problems begin at it. */
function readNamed(
  named: Data,
  path: Path,
  keys: readonly string[],
  most: number,
  borders: readonly number[],
  open: OpenTable,
): { readonly table: Omit<TableRead, 'path'> | null; readonly problems: readonly Problem[] } {
  const spec = z.safeParse(tableSchema(), named);
  if (!spec.success) return { table: null, problems: problemsOf(spec.error.issues, tableSchema(), named) };
  const { file } = spec.data;
  const opened = open(file);
  if ('code' in opened) return { table: null, problems: [{ ...opened, path: ['file'] }] };
  const list = String(lastKey(path));
  const read = readTable(
    { ...opened, text: withPlainLines(opened.text) },
    spec.data,
    keys,
    WANTED[list] ?? [],
    most,
    borders,
    list === 'inspection' ? findingData : asItStands,
  );
  if ('problems' in read) return { table: null, problems: read.problems };
  const unnamed = list === 'inspection' ? rowsUnnamed(read.table.rows) : [];
  return { table: read.table, problems: [...read.notes, ...unnamed] };
}

/** Rows of a delivery that name no cartridge: a cartridge that cannot be told from the others is not counted. */
const rowsUnnamed = (rows: readonly TableRow[]): Problem[] =>
  rows.flatMap(({ data }, index) => {
    const of = (key: string): Data => at(data, [key]);
    const named = of('serial') !== null || of('slot') !== null || of('stage') !== 'delivery';
    return named ? [] : [{ code: 'row-without-serial', path: [index, 'serial'] }];
  });

interface Read {
  readonly table: Omit<TableRead, 'path'>;
  readonly notes: readonly Problem[];
}

function readTable(
  { file, text }: TableText,
  spec: TableData,
  keys: readonly string[],
  wanted: readonly string[],
  most: number,
  borders: readonly number[],
  meant: (row: Readonly<Record<string, Data>>) => Data,
): Read | { readonly problems: readonly Problem[] } {
  const wrong = (fault: Fault, ...path: string[]) => ({ problems: [{ ...fault, path }] });
  const named = new Map(
    Object.entries(spec.columns ?? {}).map(([key, headings]) => [
      key,
      typeof headings === 'string' ? [headings] : (headings as readonly string[]),
    ]),
  );
  const stranger = [...named.keys()].find((key) => !keys.includes(key.split('.')[0] ?? ''));
  if (stranger !== undefined) {
    const near = nearest(stranger, keys);
    return wrong(
      { code: 'unknown-key', key: stranger, nearest: near, known: keys, belongs: [], empty: false },
      'columns',
      stranger,
    );
  }
  const long = longLine(text);
  if (long !== null) {
    const cells = { got: 0, expected: 0, commas: false };
    return wrong({ code: 'table-row', at: `${file}:${long}`, fault: 'long-line', ...cells }, 'file');
  }
  const head = headOf(text, keys, named, wanted);
  if (head === null) {
    const first = firstRow(text);
    return wrong({ code: 'table-without-heading', table: file, first, wanted }, 'file');
  }
  const { delimiter, headings, columns, row: headRow } = head;
  const [badColumn] = head.faults;
  if (badColumn?.fault === 'not-there') {
    const texts = headings.map((one) => one.text);
    const near = nearest(badColumn.heading, texts);
    const { key, heading } = badColumn;
    return wrong(
      { code: 'column-not-there', table: file, heading, headings: texts, nearest: near },
      'columns',
      key,
    );
  }
  if (badColumn) {
    const { key, headings: alike } = badColumn;
    return wrong({ code: 'column-twice', table: file, key, headings: alike }, 'file');
  }
  const evidence = gathered({ file, text }, delimiter, headRow, headings.length, columns, most);
  const here = `${file}:`;
  if ('code' in evidence) return wrong(evidence, 'file');
  if (evidence.rows === 0) return wrong({ code: 'table-empty', table: file }, 'file');
  const told = evidence.decimals.mark;
  if (spec.decimal_mark == null && 'fault' in told) {
    const { fault, written, where } = told;
    return wrong(
      { code: fault === 'mixed' ? 'decimals-mixed' : 'decimals-unclear', at: `${here}${where}`, written },
      'file',
    );
  }
  const days = evidence.days.order;
  if (spec.day_order == null && 'fault' in days) {
    const { fault, written, where } = days;
    const readings = readingsOfDay(written) ?? [];
    return wrong(
      { code: fault === 'mixed' ? 'days-mixed' : 'days-unclear', at: `${here}${where}`, written, readings },
      'file',
    );
  }
  const mark = spec.decimal_mark ?? ('mark' in told ? told.mark : 'point');
  const order = spec.day_order ?? ('order' in days ? days.order : null);
  const thinning = new Thinning<TableRow>(evidence.rows, borders);
  let unread = 0;
  eachRow(text, delimiter, (row) => {
    if (row.offset <= headRow.offset) return true;
    const data = rowData(row.cells, headings, columns, mark, order);
    const sums = toldOf(data);
    if (sums === null) unread += 1;
    // More that cannot be read than anyone mends: the first ones are told.
    if (sums !== null || unread <= MOST_UNREAD)
      thinning.add({ data: meant(data), row }, sums, secondsOf(data));
    return true;
  });
  thinning.close();
  const rows = thinning.kept;
  const read = [...columns].map(([key, found]) => ({
    key,
    headings: found.map((one) => headings[one]?.text ?? ''),
  }));
  const note = {
    code: 'table-read',
    table: file,
    rows: evidence.rows,
    kept: rows.length,
    columns: read,
    order,
  } as const;
  return {
    table: { file, text, delimiter, headings, columns, rows },
    notes: [{ ...note, path: ['file'] }],
  };
}

const MOST_UNREAD = 500;

interface Head {
  readonly delimiter: string;
  readonly row: Row;
  readonly headings: readonly Heading[];
  readonly columns: Columns;
  readonly faults: ReturnType<typeof columnsOf>['faults'];
}

const DELIMITERS = ['\t', ';', ',', '|'];

/** Lines that a logger writes before the heading. */
const MOST_BEFORE = 40;

/**
 * The heading: the first row with a column that is looked for and no number, with the sign between its cells that
 * gives the most such columns.
 */
function headOf(
  text: string,
  keys: readonly string[],
  named: ReadonlyMap<string, readonly string[]>,
  wanted: readonly string[],
): Head | null {
  let best: Head | null = null;
  for (const delimiter of DELIMITERS) {
    let rows = 0;
    eachRow(text, delimiter, (row) => {
      rows += 1;
      const cells = row.cells.map((cell) => cell.trim());
      if (!cells.some((cell) => /^[+-]?[\d.,]*\d$/.test(cell))) {
        const headings = cells.map(headingOf);
        const { columns, faults } = columnsOf(headings, keys, named);
        const sought = faults.length > 0 || wanted.some((key) => columns.has(key));
        const better = best === null || columns.size > best.columns.size;
        if (sought && columns.size > 0 && better) {
          best = { delimiter, row, headings, columns, faults };
          return false;
        }
      }
      return rows < MOST_BEFORE;
    });
  }
  return best;
}

/** What stands first in a table, for whoever looks for its heading. */
function firstRow(text: string): string {
  return (
    text
      .split('\n', 200)
      .find((line) => line.trim() !== '')
      ?.trim()
      .slice(0, 80) ?? ''
  );
}

interface Evidence {
  readonly rows: number;
  readonly decimals: DecimalEvidence<string>;
  readonly days: DayEvidence<string>;
}

/** What all rows of a table say together; or the row that is none. */
function gathered(
  { file, text }: TableText,
  delimiter: string,
  head: Row,
  width: number,
  columns: Columns,
  most: number,
): Evidence | Fault {
  const decimals = new DecimalEvidence<string>();
  const days = new DayEvidence<string>();
  let rows = 0;
  let uneven: { row: Row; got: number } | null = null as { row: Row; got: number } | null;
  const fault = eachRow(text, delimiter, (row) => {
    if (row.offset <= head.offset) return true;
    rows += 1;
    if (rows > most) return false;
    const beyond = row.cells.slice(width).some((cell) => cell.trim() !== '');
    if (beyond || row.cells.length < Math.max(...[...columns.values()].flat()) + 1) {
      uneven = { row, got: row.cells.length };
      return false;
    }
    for (const [key, found] of columns) {
      const cells = found.map((column) => row.cells[column]?.trim() ?? '');
      const where = (): string => String(row.line);
      if (TIMES.has(key)) days.add(cells.join(' '), where());
      else if (!WORDS.has(key)) for (const cell of cells) decimals.add(cell, where());
    }
    return true;
  });
  const commas = delimiter === ',';
  if (fault !== null) {
    const line = `${file}:${fault.line}`;
    return { code: 'table-row', at: line, fault: 'open-quote', got: 0, expected: width, commas };
  }
  if (uneven !== null) {
    const { row, got } = uneven;
    return { code: 'table-row', at: `${file}:${row.line}`, fault: 'uneven', got, expected: width, commas };
  }
  if (rows > most) return { code: 'table-too-long', table: file, most };
  return { rows, decimals, days };
}

/** A row as a trial would write it. */
function rowData(
  cells: readonly string[],
  headings: readonly Heading[],
  columns: Columns,
  mark: DecimalMark,
  order: DayOrder | null,
): Record<string, Data> {
  const data: Record<string, Data> = {};
  for (const [key, found] of columns) {
    const written = found
      .map((column) => cells[column]?.trim() ?? '')
      .join(' ')
      .trim();
    // "none" is a severity; of a reading it says that there is none.
    if (NO_READING.test(written) && !(key === 'severity' && NONE.test(written))) continue;
    const unit = headings[found[0] ?? 0]?.unit ?? null;
    const value = TIMES.has(key)
      ? (isoTime(written, order) ?? written)
      : WORDS.has(key)
        ? written
        : numberText(written, unit, mark);
    const [first = key, ...rest] = key.split('.');
    if (rest.length === 0) data[first] = value;
    else data[first] = { ...(data[first] as Record<string, Data> | undefined), [rest.join('.')]: value };
  }
  return data;
}

function numberText(written: string, unit: string | null, mark: DecimalMark): string {
  const found = numberIn(written);
  if (found === null) return written;
  const rest = found.rest === '' ? (unit ?? '') : found.rest;
  return `${plainNumber(found.number, mark)}${rest === '' ? '' : ` ${rest}`}`;
}

/** What is looked for in a long table; null where the row cannot be read, so that it is told. */
function toldOf(data: Readonly<Record<string, Data>>): readonly (number | null)[] | null {
  const number = (key: string): number | null => {
    const text = data[key];
    return typeof text === 'string' ? Number.parseFloat(text) : null;
  };
  const [temperature, humidity] = [number('temperature'), number('humidity')];
  const unread = [temperature, humidity].some((one) => one !== null && !Number.isFinite(one));
  const time = data['at'];
  if (unread || (typeof time === 'string' && 'fault' in readTime(time))) return null;
  // Of pressure and density of the vapour only the order matters.
  const pressure =
    temperature === null || humidity === null
      ? null
      : humidity * 10 ** ((7.6 * temperature) / (241 + temperature));
  const density = pressure === null || temperature === null ? null : pressure / (temperature + 273.15);
  return [temperature, humidity, pressure, density];
}

function secondsOf({ at: time }: Readonly<Record<string, Data>>): number | null {
  const read = typeof time === 'string' ? readTime(time) : null;
  return read !== null && 'value' in read ? read.value.seconds : null;
}

/** A source that knows where the rows of its tables stand. */
function placedIn(source: Source, tables: readonly TableRead[]): Source {
  return {
    ...source,
    place: (problem) => {
      const table = tables.find(({ path }) => path.every((step, index) => problem.path[index] === step));
      const row = table?.rows[Number(problem.path[table.path.length])];
      if (!table || !row || problem.offset !== undefined) return source.place(problem);
      const rest = problem.path.slice(table.path.length + 1).join('.');
      const column = table.columns.get(rest)?.[0] ?? table.columns.get(rest.split('.')[0] ?? '')?.[0];
      const place = placeOfCell(table.text, row.row, column ?? 0, table.delimiter);
      const heading = column === undefined ? null : (table.headings[column]?.text ?? null);
      return { ...place, table: { file: table.file, text: lineAt(table.text, place, row.row), heading } };
    },
  };
}
