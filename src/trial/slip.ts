import type { Problem, YamlSlip } from '../problems/problem.ts';

/**
 * One line that a slip of typing broke: found by mending lines near what is wrong, one at a time, until the whole text
 * can be read. What the mended text comes to is told by whoever asks.
 */

/** A longer text is not searched; of mended texts no more are read than these characters. */
const LONGEST_TEXT = 30_000;
const MOST_READ = 3_000_000;

/** Lines that are looked at around each line with an error. */
const ABOVE = 4;
const BELOW = 2;

interface Mended {
  readonly slip: YamlSlip;
  /** What stands in place of the line. */
  readonly line: string;
}

/** The slip in a text, if one mended line makes it readable; `isRead` says whether a text is. */
export function slipIn(
  text: string,
  errorLines: readonly number[],
  isRead: (text: string) => boolean,
): Problem | null {
  if (text.length > LONGEST_TEXT) return null;
  const rows = text.split('\n');
  let read = 0;
  for (const number of [...nearest(errorLines, rows), ...farAway(rows)]) {
    const index = number - 1;
    const row = rows[index] ?? '';
    for (const { slip, line } of mendings(row, indentsAround(rows, index))) {
      read += text.length;
      if (read > MOST_READ) return null;
      if (!isRead(rows.with(index, line).join('\n'))) continue;
      return (
        (slip === 'indentation' ? oddBefore(rows, index, isRead) : null) ?? slipAt(rows, index, slip, line)
      );
    }
  }
  return null;
}

function slipAt(rows: readonly string[], index: number, slip: YamlSlip, line: string): Problem {
  const before = rows.slice(0, index).reduce((sum, one) => sum + one.length + 1, 0);
  return {
    code: 'yaml-slip',
    slip,
    write: line.trim(),
    column: line.search(/\S/) + 1,
    path: [],
    offset: before + placeOf(rows[index] ?? '', line),
  };
}

/**
 * Of two lines that do not begin in one column the one before, where that is in an odder column: what comes first sets
 * the column, and need not be right.
 */
function oddBefore(
  rows: readonly string[],
  index: number,
  isRead: (text: string) => boolean,
): Problem | null {
  const before = rows.findLastIndex((row, at) => at < index && says(row));
  const [row = '', first = ''] = [rows[index], rows[before]];
  const begins = (one: string): string => /^ *(?:- )?/.exec(one)?.[0] ?? '';
  const alike = (one: string): number =>
    rows.filter((other) => says(other) && begins(other) === begins(one)).length;
  if (before === -1 || alike(first) >= alike(row)) return null;
  const line = `${' '.repeat(indentOf(row))}${first.trimStart()}`;
  if (line === first || !isRead(rows.with(before, line).join('\n'))) return null;
  return slipAt(rows, before, 'indentation', line);
}

/** Whether a line says something. */
const says = (row: string | undefined): boolean => /\S/.test(row ?? '') && !/^\s*#/.test(row ?? '');

const indentOf = (row: string): number => Math.max(0, row.search(/\S/));

/** More lines than these with half a quotation mark are no slip. */
const MOST_QUOTES = 3;

/** Lines whose slip is told far behind them: the first, where it does not begin in front; half a quotation mark. */
function farAway(rows: readonly string[]): number[] {
  const first = rows.findIndex(says);
  const halves = rows.flatMap((row, index) =>
    says(row) && (row.match(/"/g) ?? []).length % 2 === 1 ? index + 1 : [],
  );
  return [...(indentOf(rows[first] ?? '') > 0 ? [first + 1] : []), ...halves.slice(0, MOST_QUOTES)];
}

/** Where two texts begin to differ, within the first. */
function placeOf(row: string, line: string): number {
  let at = 0;
  while (at < row.length - 1 && row[at] === line[at]) at += 1;
  return Math.min(Math.max(at, row.search(/\S/), 0), Math.max(row.length - 1, 0));
}

/** Lines that say something, those nearest to an error first. */
function nearest(errorLines: readonly number[], rows: readonly string[]): number[] {
  const away = new Map<number, number>();
  for (const line of errorLines.slice(0, 4)) {
    let distance = 0;
    for (let at = Math.min(line, rows.length), met = 0; at >= 1 && met <= ABOVE; at -= 1) {
      if (!says(rows[at - 1])) continue;
      away.set(at, Math.min(away.get(at) ?? Infinity, distance));
      [distance, met] = [distance + 1, met + 1];
    }
    distance = 1.5;
    for (let at = line + 1, met = 0; at <= rows.length && met < BELOW; at += 1) {
      if (!says(rows[at - 1])) continue;
      away.set(at, Math.min(away.get(at) ?? Infinity, distance));
      [distance, met] = [distance + 1, met + 1];
    }
  }
  return [...away].toSorted((a, b) => a[1] - b[1] || a[0] - b[0]).map(([line]) => line);
}

/** Columns that lines around one begin in, or could; and those of what it could be in. */
function indentsAround(rows: readonly string[], index: number): number[] {
  const indents = new Set<number>();
  const near = (from: number, step: number): void => {
    let [met, outermost] = [0, Infinity];
    for (let at = from; at >= 0 && at < rows.length && outermost > 0; at += step) {
      const row = rows[at] ?? '';
      if (!says(row)) continue;
      met += 1;
      const spaces = indentOf(row);
      if (met > 4 && spaces >= outermost) continue;
      outermost = Math.min(outermost, spaces);
      indents.add(spaces);
      if (/^\s*- /.test(row)) indents.add(spaces + 2);
      if (/:\s*(?:#.*)?$/.test(row)) indents.add(spaces + (/^\s*- /.test(row) ? 4 : 2));
    }
  };
  near(index + 1, 1);
  near(index - 1, -1);
  indents.add(0);
  return [...indents];
}

/** The ways in which a line may be mended, the plainest first. */
function* mendings(row: string, indents: readonly number[]): Generator<Mended> {
  const one = (slip: YamlSlip, line: string): Mended => ({ slip, line });
  const inside = row.trimStart();
  if (/^\s*\t|\t/.test(row))
    for (const indent of indents) yield one('tab', `${' '.repeat(indent)}${inside.replaceAll('\t', ' ')}`);
  for (const at of places(row, /[\w"]:(?=[^\s/\\:])/g))
    yield one('space-after-colon', `${row.slice(0, at + 2)} ${row.slice(at + 2)}`);
  for (const line of balanced(row)) yield one(line.length > row.length ? 'not-closed' : 'closed-twice', line);
  for (const line of closedOnTheWay(row)) yield one('not-closed', line);
  for (const indent of indents)
    if (indent !== row.length - inside.length) yield one('indentation', `${' '.repeat(indent)}${inside}`);
  const section = /^(\s*(?:- )?[A-Za-z_][\w ]*)$/.exec(row.trimEnd());
  if (section) yield one('colon', `${row.trimEnd()}:`);
  const keyed = /^(\s*(?:- )?[A-Za-z_]\w*) (?=\S)/.exec(row);
  if (keyed) yield one('colon', `${keyed[1] ?? ''}: ${row.slice(keyed[0].length)}`);
  for (const at of places(row, /[{,]\s*[A-Za-z_]\w*(?= [^\s:{},[\]]+\s*[,}])/g, true))
    yield one('colon', `${row.slice(0, at)}:${row.slice(at)}`);
  for (const at of places(row, /[{,]\s*[A-Za-z_]\w*(?= )/g, true))
    yield one('colon', `${row.slice(0, at)}:${row.slice(at)}`);
  for (const [opens, sign] of [
    ['not-opened', '{'],
    ['not-opened', '['],
  ] as const)
    for (const at of places(row, /(?:^\s*- |: |- |, |\[)(?=[^\s{[])/g, true))
      yield one(opens, `${row.slice(0, at)}${sign}${row.slice(at)}`);
  if ((row.match(/"/g) ?? []).length % 2 === 1) {
    for (const at of places(row, /(?:: |- |, |[[{])(?=[^\s"{[])/g, true))
      yield one('quote', `${row.slice(0, at)}"${row.slice(at)}`);
    for (const at of places(row, /(?=[,}\]]|\s*$)/g))
      yield one('quote', `${row.slice(0, at)}"${row.slice(at)}`);
  }
  for (const line of quotedText(row)) yield one('text', line);
}

/** A value that is no map and no list, up to the end of the line or of what is said in braces. */
const VALUES: readonly RegExp[] = [
  /^(\s*(?:- )?[A-Za-z_]\w*: +)([^\s{[].*?)(\s*(?: #.*)?)$/,
  /^(.*[{,]\s*[A-Za-z_]\w*: +)([^\s{}[\],][^{}[\],]*?)(\s*[,}].*)$/,
];

/** A line with a text in quotation marks, where it holds a colon or a mark of its own. */
const quotedText = (row: string): string[] =>
  VALUES.flatMap((pattern) => {
    const [, before = '', value = '', after = ''] = pattern.exec(row) ?? [];
    if (value.startsWith('"')) return [];
    const text = /^'.*'$/.test(value) ? value.slice(1, -1) : value;
    return /: |['"]/.test(text) ? [`${before}${JSON.stringify(text)}${after}`] : [];
  });

/** Where a pattern is found in a line, or ends. */
const places = (row: string, pattern: RegExp, behind = false): number[] =>
  [...row.matchAll(pattern)].map(({ index, 0: found }) => index + (behind ? found.length : 0));

const CLOSES: Readonly<Record<string, string>> = { '{': '}', '[': ']' };

/** More brackets than these are no slip. */
const MOST_SIGNS = 3;

/** A line with its brackets closed where they are not; and one without those that close nothing. */
function balanced(row: string): string[] {
  const comment = / #(?= |$).*$/.exec(row)?.[0] ?? '';
  const body = row.slice(0, row.length - comment.length).trimEnd();
  const open: string[] = [];
  let [closed, dropped, quoted] = ['', '', false];
  for (const sign of body) {
    if (sign === '"') quoted = !quoted;
    const closes = CLOSES[sign];
    if (!quoted && closes !== undefined) open.push(closes);
    if (!quoted && (sign === '}' || sign === ']')) {
      const at = open.lastIndexOf(sign);
      if (at === -1) {
        closed += sign;
        continue;
      }
      while (open.length > at + 1) closed += open.pop() ?? '';
      open.pop();
    }
    closed += sign;
    dropped += sign;
  }
  closed += open.toReversed().join('');
  const oneLess = /[}\]]$/.test(body) ? [body.slice(0, -1)] : [];
  return [dropped, ...oneLess, closed]
    .map((line) => line + comment)
    .filter((line) => !quoted && line !== row.trimEnd() && Math.abs(line.length - row.length) <= MOST_SIGNS);
}

/** A line of braces with a bracket closed before a further key, where it was left open. */
function closedOnTheWay(row: string): string[] {
  const count = (sign: string): number => row.split(sign).length - 1;
  const missing = [']', '}'].filter((sign, nth) => count(sign) < count(['[', '{'][nth] ?? ''));
  return missing.flatMap((sign) =>
    places(row, /(?=, *[A-Za-z_]\w*:)/g).map((at) => `${row.slice(0, at)}${sign}${row.slice(at)}`),
  );
}

/** A text, and behind a blank a # with no blank behind it. */
const CUT = /^(?!\s*#)(.*\S)[ \t]+#([^\s#!].*)$/;

/** Texts that a # cuts short, where it hardly was meant to begin a note. */
export function cutByNotes(text: string): Problem[] {
  if (!/[ \t]#[^\s#!]/.test(text) || text.length > LONGEST_TEXT) return [];
  let offset = 0;
  return text.split('\n').flatMap((row): Problem[] => {
    const from = offset;
    offset += row.length + 1;
    const [, before = '', cut = ''] = CUT.exec(row.trimEnd()) ?? [];
    const kept = /(?::|-|,|\{|\[)\s+([^\s"'{[][^"']*)$/.exec(before)?.[1];
    const whole = (before.match(/"/g) ?? []).length % 2 === 0 && !/[}\]"']$/.test(before);
    if (cut === '' || kept === undefined || !whole) return [];
    const at = from + row.indexOf('#', before.length);
    return [{ code: 'cut-by-note', kept, cut: `#${cut}`, path: [], offset: at }];
  });
}
