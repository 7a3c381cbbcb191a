import { Composer, type CST, Lexer, Parser, Schema } from 'yaml';
import type { Fault, Problem } from './problem.ts';

/** More levels than any trial needs, and far fewer than a reader's stack bears. */
export const DEEPEST = 64;

/** Several times what ten thousand readings of the room take. */
const MOST_LEXEMES = 500_000;

/** Numbers stay text: what is looked for are faults of the text as such. */
const textAlone = (): Schema => new Schema({ schema: 'failsafe', resolveKnownTags: true });

/**
 * Everything that is wrong with a text as YAML, found by a reader that goes on after a fault; and whether
 * it holds more than one document. It is slow, and asked only about a text that could not be read.
 */
export function yamlFaults(text: string): Problem[] {
  const composer = new Composer({
    schema: textAlone(),
    version: '1.2',
    prettyErrors: false,
    uniqueKeys: false,
    logLevel: 'silent',
  });
  try {
    const [first, second] = composer.compose(tokensOf(text), true, text.length);
    const problems = (first?.errors ?? []).map(({ code, message, pos }): Problem => ({
      code: 'not-yaml',
      yaml: code,
      detail: message,
      path: [],
      offset: pos[0],
    }));
    if (second !== undefined) {
      problems.push({ code: 'several-documents', path: [], offset: second.range[0] });
    }
    return problems;
  } catch (error) {
    if (!(error instanceof TooMuch)) throw error;
    return [{ ...error.fault, path: [] }];
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
