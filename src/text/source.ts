import type { Path } from '../uncertainty/path.ts';
import type { Problem } from '../problems/problem.ts';
import { looksLikeTable } from './kind.ts';
import { type Data, readYaml, type YamlText } from './yaml-text.ts';

export type { Data };

/** A file of more bytes than this is refused unread. */
export const LARGEST_FILE = 4 * 1024 * 1024;

/** A place in a text; line and column count from 1. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

/** A place that may be in another file: in a table that a trial names. */
export interface FoundPlace extends Place {
  /** Where it is another one. */
  readonly table?: {
    readonly file: string;
    /** The line, as it stands there. */
    readonly text: string;
    /** What stands above the column; null for a row as a whole. */
    readonly heading: string | null;
  };
}

/** One YAML file as read: its data, what is wrong with it as YAML, and where everything stands. */
export interface Source {
  /** The name it is shown by. */
  readonly file: string;
  readonly data: Data;
  /** The text itself; empty where it could not be read. */
  readonly text: string;
  readonly problems: readonly Problem[];
  place(problem: { readonly path: Path; readonly atKey?: boolean; readonly offset?: number }): FoundPlace;
  /** The text of a line, counted from 1. */
  line(number: number): string;
  /** The lines of a top-level entry, with the comments right above it; null where there is none of its own lines. */
  excerpt(key: string): Excerpt | null;
}

/** Lines of a text, as they stand there. */
export interface Excerpt {
  /** Counted from 1. */
  readonly from: number;
  readonly lines: readonly string[];
}

/** A source for a file that could not be read at all. */
export function unreadable(file: string, problem: Problem): Source {
  return {
    file,
    data: null,
    text: '',
    problems: [problem],
    place: () => ({ line: 1, column: 1 }),
    line: () => '',
    excerpt: () => null,
  };
}

/** A source from its text. Problems of the text are among its own; what is well-formed beside them is still read. */
export function readSource(file: string, text: string): Source {
  let known: readonly number[] | undefined;
  const begins = (): readonly number[] => (known ??= lineBeginnings(text));
  const row = (number: number): string => {
    const from = begins()[number - 1];
    return from === undefined ? '' : text.slice(from, begins()[number]).replace(/[\r\n]+$/, '');
  };
  const lineOf = (offset: number): number => lineAt(begins(), offset);

  const yaml = readYaml(text, lineOf);
  const { data } = yaml;
  return {
    file,
    data,
    text,
    problems: problemsOf(yaml, text),
    place: ({ path, atKey, offset }) => {
      const at = offset ?? yaml.offset(path, atKey ?? false);
      const line = lineOf(at);
      return { line, column: at - (begins()[line - 1] ?? 0) + 1 };
    },
    line: row,
    excerpt: (key) => excerptOf(yaml, key, text.split(LINE_END), lineOf),
  };
}

/** What is wrong with a text; of one that is something else, that. */
function problemsOf({ data, problems }: YamlText, text: string): readonly Problem[] {
  if (data === null && problems.length === 0) return [{ code: 'empty-file', path: [] }];
  const read = data !== null && typeof data === 'object';
  return read || !looksLikeTable(text) ? problems : [{ code: 'other-kind', kind: 'table', path: [] }];
}

const LINE_END = /\r\n|\n|\r/;

/** Offsets at which the lines of a text begin. */
function lineBeginnings(text: string): number[] {
  const begins = [0];
  for (const { index, 0: end } of text.matchAll(new RegExp(LINE_END, 'g'))) begins.push(index + end.length);
  return begins;
}

/** The line, counted from 1, that an offset is in. */
function lineAt(begins: readonly number[], offset: number): number {
  let [low, high] = [0, begins.length];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((begins[middle] ?? 0) <= offset) low = middle;
    else high = middle;
  }
  return low + 1;
}

const COMMENT = /^\s*#/;

function excerptOf(
  yaml: YamlText,
  key: string,
  rows: readonly string[],
  lineOf: (offset: number) => number,
): Excerpt | null {
  const keys = yaml.topKeys() ?? [];
  const starts = keys.map(([, offset]) => lineOf(offset));
  const index = keys.findIndex(([name]) => name === key);
  const start = starts[index];
  if (start === undefined) return null;
  /** The first line that belongs to what begins on a line: comments right above it do. */
  const withComments = (line: number): number => {
    let first = line;
    while (first > 1 && COMMENT.test(rows[first - 2] ?? '')) first -= 1;
    return first;
  };
  const from = withComments(start);
  const next = starts[index + 1];
  const limit = next === undefined ? rows.length : withComments(next) - 1;
  let end = limit;
  while (end > start && /^(\s*$|#)/.test(rows[end - 1] ?? '')) end -= 1;
  // A comment set apart by an empty line speaks of something else.
  while (end < limit && COMMENT.test(rows[end] ?? '')) end += 1;
  return { from, lines: rows.slice(from - 1, end) };
}
