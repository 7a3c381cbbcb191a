import {
  Composer,
  type CST,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  Lexer,
  LineCounter,
  type Node,
  Parser,
  type Scalar,
  Schema,
} from 'yaml';
import type { Path } from '../uncertainty/path.ts';
import type { Fault, Problem } from './problem.ts';

/** A file of more bytes than this is refused unread. */
export const LARGEST_FILE = 4 * 1024 * 1024;

/** Plain data of a YAML document: every scalar is its text as written, or null where nothing stands. */
export type Data = string | null | Data[] | { [key: string]: Data };

/** A place in a text; line and column count from 1. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

/** One YAML file as read: its data, what is wrong with it as YAML, and where everything stands. */
export interface Source {
  /** The name it is shown by. */
  readonly file: string;
  readonly data: Data;
  readonly problems: readonly Problem[];
  place(problem: { readonly path: Path; readonly atKey?: boolean; readonly offset?: number }): Place;
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

/** Tags whose scalars would lose what was written. */
const NUMERIC_TAG = /:(int|float|bool)$/;

/** Made once: every file is read with it. */
let core: Schema | undefined;
const coreWithoutNumbers = (): Schema =>
  new Schema({
    schema: 'core',
    resolveKnownTags: true,
    customTags: (tags) => tags.filter((tag) => typeof tag === 'string' || !NUMERIC_TAG.test(tag.tag)),
  });

/** Several times what ten thousand readings of the room take. */
const MOST_LEXEMES = 500_000;

/** More cartridges, patches or keys than any trial has; and more readings than a logger takes in a week. */
const MOST_ENTRIES = 1000;
const MOST_LOGGED = 10_000;
const LOGGED: ReadonlySet<unknown> = new Set(['ambient', 'batches', 'events']);

/** More levels than any trial needs, and far fewer than the reader's stack bears. */
const DEEPEST = 64;

/** Bytes to text; UTF-8 only, a byte order mark is passed over. */
export function decode(bytes: Uint8Array): { readonly text: string } | { readonly problem: Problem } {
  if (bytes.length > LARGEST_FILE) {
    return { problem: { code: 'file-too-large', bytes: bytes.length, path: [] } };
  }
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    return { problem: { code: 'not-utf8', byte: firstBadByte(bytes), path: [] } };
  }
}

function firstBadByte(bytes: Uint8Array): number {
  const shown = new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
  const encoder = new TextEncoder();
  for (let at = shown.indexOf('\uFFFD'); at !== -1; at = shown.indexOf('\uFFFD', at + 1)) {
    const offset = encoder.encode(shown.slice(0, at)).length;
    const genuine = bytes[offset] === 0xef && bytes[offset + 1] === 0xbf && bytes[offset + 2] === 0xbd;
    if (!genuine) return offset;
  }
  return 0;
}

/** A source for a file that could not be read at all. */
export function unreadable(file: string, problem: Problem): Source {
  return {
    file,
    data: null,
    problems: [problem],
    place: () => ({ line: 1, column: 1 }),
    line: () => '',
    excerpt: () => null,
  };
}

/**
 * Reads YAML 1.2 with numbers and booleans left as written (their tags are taken out of the core
 * schema), so that `0012`, `1500.50` and a serial `12E45678` keep their digits.
 *
 * Aliases, tags, several documents and doubled keys are problems; what else is well-formed is still read.
 */
export function readSource(file: string, text: string): Source {
  const lines = new LineCounter();
  const problems: Problem[] = [];
  let root: Node | null = null;
  let data: Data = null;
  try {
    const tokens = tokensOf(text, lines);
    const composer = new Composer({
      schema: (core ??= coreWithoutNumbers()),
      version: '1.2',
      prettyErrors: false,
      uniqueKeys: false,
      logLevel: 'silent',
    });
    const documents = [...composer.compose(tokens, true, text.length)];
    const [first, second] = documents;
    for (const { code, message, pos } of first?.errors ?? []) {
      problems.push({ code: 'not-yaml', yaml: code, detail: message, path: [], offset: pos[0] });
    }
    if (second !== undefined) {
      problems.push({ code: 'several-documents', path: [], offset: second.range[0] });
    }
    root = first?.contents ?? null;
    if (problems.length === 0) data = plain(root, [], lines, problems);
  } catch (error) {
    if (!(error instanceof TooMuch)) throw error;
    problems.push({ ...error.fault, path: [] });
  }
  if (problems.length === 0 && data === null) problems.push({ code: 'empty-file', path: [] });

  let split: readonly string[] | undefined;
  const rows = (): readonly string[] => (split ??= text.split(/\r\n|\n|\r/));
  return {
    file,
    data,
    problems,
    place: ({ path, atKey, offset }) => {
      const at = offset ?? offsetOf(root, path, atKey ?? false);
      const { line, col } = lines.linePos(at);
      return line === 0 ? { line: 1, column: 1 } : { line, column: col };
    },
    line: (number) => rows()[number - 1] ?? '',
    excerpt: (key) => excerptOf(root, key, rows(), lines),
  };
}

const COMMENT = /^\s*#/;

function excerptOf(
  root: Node | null,
  key: string,
  rows: readonly string[],
  lines: LineCounter,
): Excerpt | null {
  if (!isMap(root) || root.flow) return null;
  const starts = root.items.map(({ key: one }) => lines.linePos((one as Node | null)?.range?.[0] ?? 0).line);
  const index = root.items.findIndex(({ key: one }) => isScalar(one) && textOf(one) === key);
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

/**
 * The tokens of a text. A file of brackets alone would take minutes and gigabytes to read, so reading
 * stops where it goes deeper or on longer than any trial.
 */
function tokensOf(text: string, lines: LineCounter): CST.Token[] {
  const parser = new Parser(lines.addNewLine);
  const tokens: CST.Token[] = [];
  let [count, depth, before] = [0, 0, ''];
  lines.addNewLine(0);
  for (const lexeme of new Lexer().lex(text)) {
    if (before !== SCALAR_FOLLOWS) {
      if (lexeme === '[' || lexeme === '{') depth += 1;
      else if (lexeme === ']' || lexeme === '}') depth -= 1;
    }
    before = lexeme;
    count += 1;
    if (depth > DEEPEST) throw new TooMuch({ code: 'nested-too-deep' });
    if (count > MOST_LEXEMES) throw new TooMuch({ code: 'too-long' });
    for (const token of parser.next(lexeme)) tokens.push(token);
  }
  for (const token of parser.end()) tokens.push(token);
  if (deeperThan(DEEPEST, tokens)) throw new TooMuch({ code: 'nested-too-deep' });
  return tokens;
}

/** What the lexer says before the text of a scalar, which may look like anything. */
const SCALAR_FOLLOWS = '\u001f';

/** Reading stopped: the file is no trial, and reading on would take too long. */
class TooMuch extends Error {
  constructor(readonly fault: Fault) {
    super(fault.code);
  }
}

/** Whether anything stands deeper than `levels`; a loop, since what it guards against is recursion. */
function deeperThan(levels: number, tokens: readonly CST.Token[]): boolean {
  const open: [token: CST.Token, depth: number][] = tokens.map((token) => [token, 0]);
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const [token, depth] = next;
    if (depth > levels) return true;
    if (token.type === 'document') {
      if (token.value) open.push([token.value, depth]);
    } else if ('items' in token) {
      for (const { key, value } of token.items) {
        if (key) open.push([key, depth + 1]);
        if (value) open.push([value, depth + 1]);
      }
    }
  }
  return false;
}

/** A scalar as text; null where nothing stands. With the number tags taken out there is nothing else. */
const textOf = ({ value }: Scalar): string | null => (typeof value === 'string' ? value : null);

/** The plain data below a node; what the format does not take goes to `problems`. */
function plain(node: unknown, path: Path, lines: LineCounter, problems: Problem[]): Data {
  if (isAlias(node)) {
    problems.push({ code: 'alias', path, offset: node.range?.[0] ?? 0 });
    return null;
  }
  if (isScalar(node) || isMap(node) || isSeq(node)) {
    if (node.tag !== undefined && !/^tag:yaml\.org,2002:(map|seq|str|null)$/.test(node.tag)) {
      problems.push({ code: 'tag', tag: node.tag, path, offset: node.range?.[0] ?? 0 });
    }
  }
  if (isScalar(node)) return textOf(node);
  const entries = isSeq(node) || isMap(node) ? node.items.length : 0;
  const most = LOGGED.has(path.at(-1)) ? MOST_LOGGED : MOST_ENTRIES;
  if (entries > most) throw new TooMuch({ code: 'too-many-entries', entries, most });
  if (isSeq(node)) return node.items.map((item, index) => plain(item, [...path, index], lines, problems));
  if (!isMap(node)) return null;

  const map = Object.create(null) as Record<string, Data>;
  const seenAt = new Map<string, number>();
  let before: string | null = null;
  let last: string | null = null;
  for (const { key, value } of node.items) {
    const offset = (key as Node | null)?.range?.[0] ?? 0;
    if (!isScalar(key) || key.value === null) {
      problems.push({ code: 'key-not-text', path, offset });
      continue;
    }
    const name = textOf(key) ?? '';
    const first = seenAt.get(name);
    if (first !== undefined) {
      const firstLine = lines.linePos(first).line;
      problems.push({ code: 'duplicate-key', key: name, firstLine, path: [...path, name], offset });
      continue;
    }
    seenAt.set(name, offset);
    if (node.flow && value === null && /^\d/.test(name) && before !== null) {
      const written = `${before},${name}`;
      problems.push({ code: 'split-number', written, write: `${before}.${name}`, path, offset });
      if (last !== null) map[last] = null;
      continue;
    }
    before = isScalar(value) ? textOf(value) : null;
    last = name;
    map[name] = plain(value, [...path, name], lines, problems);
  }
  return map;
}

/** Where the value at `path` begins; else its key; else the nearest thing above it. */
function offsetOf(root: Node | null, path: Path, atKey: boolean): number {
  let node: unknown = root;
  let offset = root?.range?.[0] ?? 0;
  for (const [index, step] of path.entries()) {
    const last = index === path.length - 1;
    if (isMap(node)) {
      const pair = node.items.find((item) => isScalar(item.key) && textOf(item.key) === step);
      if (pair === undefined) return offset;
      const key = pair.key as Node;
      offset = key.range?.[0] ?? offset;
      node = pair.value;
      if (last && atKey) return offset;
    } else if (isSeq(node) && typeof step === 'number') {
      node = node.items[step];
    } else return offset;
    const value = node as Node | null | undefined;
    const nothing = value == null || (isScalar(value) && value.value === null && value.source === '');
    if (!nothing && value.range) offset = value.range[0];
  }
  return offset;
}
