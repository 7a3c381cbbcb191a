import { FIGURES } from '../../figures/list.ts';
import type { Code, Fault, Shape, Slip } from '../../problems/problem.ts';
import { SEVERITY } from '../../trial/catalogue.ts';
import { Decimal } from '../../uncertainty/decimal.ts';
import { shown } from '../numbers.ts';

/** What the sentences share: their shape, and words for numbers and lists. */

export interface Said {
  /** What is wrong, or what there is to know. */
  readonly say: string;
  /** What to do about it. */
  readonly mend: string;
}

export type Words = { readonly [C in Code]: (fault: Extract<Fault, { code: C }>, key: string) => Said };

export const list = (items: readonly string[], last = 'or'): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} ${last} ${items.at(-1) ?? ''}`;

export const SHAPES: Readonly<Record<Shape | 'nothing', string>> = {
  value: 'a single value',
  map: 'a map (key: value, or {key: value})',
  list: 'a list (a line with "- " for each entry, or [ ])',
  nothing: 'nothing',
};

export const guess = (nearest: string | null, known: readonly string[]): string =>
  nearest !== null ? `Did you mean "${nearest}"?` : known.length > 0 ? `It can be: ${list(known)}.` : '';

/** Of a file that a trial names, and that is not where only such files are read from. */
export const outside = (what: string, name: string): Said => ({
  say: `The ${what} "${name}" is not in the trial file’s folder or below.`,
  mend: 'Put it beside the trial file and name it from there.',
});

/** A cartridge as a sentence begins with it. */
export const cartridgeOf = (slot: string): string => (slot === '' ? 'The cartridge' : `Cartridge ${slot}`);

export const YAML_HINTS: Readonly<Record<string, string>> = {
  TAB_AS_INDENT: 'Indent with spaces.',
  BAD_INDENT: 'Keys that belong together start in the same column; brackets must be closed.',
  MISSING_CHAR: 'Close the quotation mark, bracket or brace.',
  BLOCK_AS_IMPLICIT_KEY: 'Write one "key: value" a line; put text that holds ": " in quotation marks.',
  MULTILINE_IMPLICIT_KEY: 'Write the key and its colon on one line.',
  BAD_SCALAR_START: 'Put the text in quotation marks.',
  UNEXPECTED_TOKEN: 'Look at the brackets, commas and colons of this line and the one before.',
};

/** A unit behind a number in a sentence; of a pure number and a severity there is none. */
export const wordless = (unit: string): string => (unit === '1' || unit === SEVERITY ? '' : ` ${unit}`);

/** What a limit asks for. */
export const limitWords = (min: string | null, max: string | null, unit: string): string => {
  const range =
    min !== null && max !== null
      ? `${min} to ${max}`
      : min !== null
        ? `at least ${min}`
        : `at most ${max ?? ''}`;
  return `${range}${wordless(unit)}`;
};

/** A value with its expanded uncertainty, both as far as that goes. */
export function withU([value, U]: readonly [value: string, U: string]): string {
  const known = shown(new Decimal(value), new Decimal(U));
  return known.U === '' ? known.value : `${known.value} ± ${known.U}`;
}

/** A figure as sentences name it. */
export const figureWords = (figure: string, of: string | null, stat: string | null): string =>
  [stat, TITLES.get(figure) ?? figure, of === null ? '' : `of ${of}`].filter(Boolean).join(' ');

const TITLES = new Map(FIGURES.map(({ name, title }) => [name, title]));

/** What each slip is, in words. */
export const SLIPS: Readonly<Record<Slip, string>> = {
  'digits-swapped': 'Two digits look swapped',
  'digit-dropped': 'A digit looks dropped',
  'digit-doubled': 'A digit looks written twice',
  'point-moved': 'The decimal point looks moved',
  'sheets-for-pages': 'Sheets look taken for pages',
  'tare-not-taken-off': 'The empty container looks not taken off',
  'start-and-end-exchanged': 'Start and end look exchanged',
  'total-for-thousand': 'The total looks given for the thousand',
};

/** A plain decimal cut to two significant digits, for use in a sentence. */
export function shortest(decimal: string): string {
  const value = Number(decimal);
  if (value === 0) return '0';
  const places = Math.max(0, 1 - Math.floor(Math.log10(Math.abs(value))));
  return value.toFixed(Math.min(places, 12));
}

/** The sentences of some codes. */
export type WordsOf<C extends Code> = Pick<Words, C>;
