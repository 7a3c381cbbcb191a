import { Composer, type CST, Lexer, type Node, Parser, Schema } from 'yaml';
import type { Fault, Problem } from '../problems/problem.ts';

/** More levels than any trial needs, and far fewer than a reader's stack bears. */
export const DEEPEST = 64;

/** Several times what ten thousand readings of the air take. */
const MOST_LEXEMES = 500_000;

/** Far more tokens out of place than a slip leaves behind. */
const MOST_UNEXPECTED = 20_000;

/** Everything stays text: what is looked for are faults of the text as such. */
const textAlone = (): Schema => new Schema({ schema: 'failsafe', resolveKnownTags: true });

/** A document, where the text is one; else all that is wrong with it. */
export type Careful = { readonly root: Node | null } | { readonly faults: readonly Problem[] };

/**
 * A text read by a reader that is slower, goes on after a fault, and takes some that the quick one refuses:
 * a bracket that is closed where the line of its key begins. It is asked only about what the quick one refused.
 */
export function readCarefully(text: string): Careful {
  const composer = new Composer({
    schema: textAlone(),
    version: '1.2',
    prettyErrors: false,
    uniqueKeys: false,
    logLevel: 'silent',
  });
  try {
    const [first, second] = composer.compose(tokensOf(text), true, text.length);
    const faults = (first?.errors ?? []).map(({ code, message, pos }): Problem => ({
      code: 'not-yaml',
      yaml: code,
      detail: message,
      path: [],
      offset: pos[0],
    }));
    if (second !== undefined) faults.push({ code: 'several-documents', path: [], offset: second.range[0] });
    return faults.length > 0 ? { faults: firstOf(faults, faults.length) } : { root: first?.contents ?? null };
  } catch (error) {
    if (error instanceof TooMuch) return { faults: [{ ...error.fault, path: [] }] };
    if (error instanceof BadEscapes) return { faults: firstOf(error.first, error.count) };
    // Lists in lists, each begun on the line of the one around it, are beyond the stack before they are counted.
    if (error instanceof RangeError) return { faults: [{ code: 'nested-too-deep', path: [] }] };
    throw error;
  }
}

/**
 * The tokens of a text. A file of brackets alone would take minutes and gigabytes to read, so reading
 * stops where it goes deeper or on longer than any trial.
 */
function tokensOf(text: string): CST.Token[] {
  const parser = new Parser();
  const tokens: CST.Token[] = [];
  let [count, depth, before] = [0, 0, ''];
  let [offset, unexpected] = [0, 0];
  for (const lexeme of new Lexer().lex(text)) {
    if (before !== SCALAR_FOLLOWS) {
      if (lexeme === '[' || lexeme === '{') depth += 1;
      else if (lexeme === ']' || lexeme === '}') depth -= 1;
    }
    before = lexeme;
    count += 1;
    if (depth > DEEPEST) throw new TooMuch({ code: 'nested-too-deep' });
    if (count > MOST_LEXEMES) throw new TooMuch({ code: 'too-long' });
    if (lexeme.startsWith('"')) refuseBadEscapes(lexeme, offset);
    if (!CONTROL.has(lexeme)) offset += lexeme.length;
    for (const token of parser.next(lexeme)) {
      tokens.push(token);
      if (token.type === 'error') unexpected += 1;
    }
    if (unexpected > MOST_UNEXPECTED) throw new TooMuch({ code: 'too-long' });
  }
  for (const token of parser.end()) tokens.push(token);
  if (deeperThan(DEEPEST, tokens)) throw new TooMuch({ code: 'nested-too-deep' });
  return tokens;
}

/** What the lexer says before the text of a scalar, which may look like anything. */
const SCALAR_FOLLOWS = '\u001f';

/** What the lexer says that is not of the text: begin of a document, of a scalar, end of a broken bracket. */
const CONTROL: ReadonlySet<string> = new Set(['\u0002', '\u0018', SCALAR_FOLLOWS]);

/** More faults than anyone mends before trying again. */
export const MOST_FAULTS = 200;

/** The first faults, and how many more there are. */
const firstOf = (faults: readonly Problem[], count: number): readonly Problem[] =>
  count <= MOST_FAULTS
    ? faults
    : [...faults.slice(0, MOST_FAULTS), { code: 'more-problems', count: count - MOST_FAULTS, path: [] }];

/** An escape of YAML 1.2 (5.7) between double quotes, or what is none. */
const ESCAPE = /\\(?:[0abtnvfre "/\\N_LP\t\r\n]|x[\da-fA-F]{2}|u[\da-fA-F]{4}|U[\da-fA-F]{8}|([^]))/g;

/** Bad escapes are told by the composer, but each costs it the more, the more there are. */
function refuseBadEscapes(lexeme: string, from: number): void {
  const faults: Problem[] = [];
  let count = 0;
  for (const { 1: bad, index } of lexeme.matchAll(ESCAPE)) {
    if (bad === undefined) continue;
    count += 1;
    if (count > MOST_FAULTS) continue;
    const detail = `Invalid escape sequence \\${bad}`;
    faults.push({ code: 'not-yaml', yaml: 'BAD_DQ_ESCAPE', detail, path: [], offset: from + index });
  }
  if (count > MOST_FAULTS) throw new BadEscapes(faults, count);
}

/** Reading stopped at more bad escapes than anyone mends. */
class BadEscapes extends Error {
  constructor(
    readonly first: readonly Problem[],
    readonly count: number,
  ) {
    super('bad escapes');
  }
}

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
