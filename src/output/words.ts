import type { OpenReason } from '../limits/judge.ts';
import type { Code, Fault, Problem, Shape } from '../trial/problem.ts';
import { dotted, lastKey } from '../uncertainty/path.ts';

/** Every sentence that is said about a trial file, a limits file or a figure, in one place. */

interface Said {
  /** What is wrong, or what there is to know. */
  readonly say: string;
  /** What to do about it. */
  readonly mend: string;
}

type Words = { readonly [C in Code]: (fault: Extract<Fault, { code: C }>, key: string) => Said };

const list = (items: readonly string[], last = 'or'): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} ${last} ${items.at(-1) ?? ''}`;

const SHAPES: Readonly<Record<Shape | 'nothing', string>> = {
  value: 'a single value',
  map: 'a map (key: value, or {key: value})',
  list: 'a list (a line with "- " for each entry, or [ ])',
  nothing: 'nothing',
};

const guess = (nearest: string | null, known: readonly string[]): string =>
  nearest !== null ? `Did you mean "${nearest}"?` : known.length > 0 ? `It can be: ${list(known)}.` : '';

const YAML_HINTS: Readonly<Record<string, string>> = {
  TAB_AS_INDENT: 'Indent with spaces.',
  BAD_INDENT: 'Keys that belong together start in the same column; brackets must be closed.',
  MISSING_CHAR: 'Close the quotation mark, bracket or brace.',
  BLOCK_AS_IMPLICIT_KEY: 'Write one "key: value" a line; put text that holds ": " in quotation marks.',
  MULTILINE_IMPLICIT_KEY: 'Write the key and its colon on one line.',
  BAD_SCALAR_START: 'Put the text in quotation marks.',
  UNEXPECTED_TOKEN: 'Look at the brackets, commas and colons of this line and the one before.',
};

const WORDS: Words = {
  'file-unreadable': ({ why }) => ({
    say: `This file cannot be read: ${why}.`,
    mend: 'Check its name and folder.',
  }),
  'file-too-large': ({ bytes }) => ({
    say: `This file has ${bytes} bytes; a trial has at most 4 MiB.`,
    mend: 'Check that it is the right file.',
  }),
  'not-utf8': ({ byte }) => ({
    say: `This file is not UTF-8 text: byte ${byte + 1} fits no character.`,
    mend: 'Save it again as UTF-8.',
  }),
  'empty-file': () => ({
    say: 'This file is empty.',
    mend: 'A trial needs at least the keys "trial" and "meter".',
  }),
  'not-yaml': ({ yaml, detail }) => ({
    say: `This is not well-formed YAML: ${detail.charAt(0).toLowerCase()}${detail.slice(1)}.`,
    mend: YAML_HINTS[yaml] ?? 'Look at the indentation, brackets and colons here and on the line before.',
  }),
  'several-documents': () => ({
    say: 'A second document begins here.',
    mend: 'Keep one trial a file; take out the "---" or split the file.',
  }),
  'nested-too-deep': () => ({
    say: 'The brackets or lists of this file go deeper than any trial needs.',
    mend: 'Check that it is the right file.',
  }),
  alias: () => ({
    say: 'An alias (*name) stands here; a trial says everything where it belongs.',
    mend: 'Write the value itself; text that begins with * goes in quotation marks.',
  }),
  tag: ({ tag }) => ({
    say: `A tag (${tag}) stands here; values are read by their key.`,
    mend: 'Take the tag out.',
  }),
  'key-not-text': () => ({ say: 'This key is not a word.', mend: 'Write a plain key before the colon.' }),
  'duplicate-key': ({ key, firstLine }) => ({
    say: `The key "${key}" stands here a second time; it is already on line ${firstLine}.`,
    mend: 'Keep one of the two.',
  }),
  'more-problems': ({ count }) => ({
    say: `There are ${count} more problems like these.`,
    mend: 'Mend the first ones and try again.',
  }),
  'unknown-key': ({ key, nearest, known, empty }) => ({
    say: `There is no key "${key}" here.`,
    mend:
      empty && nearest === null
        ? 'Inside { } a comma ends a value: put a text that holds one in quotation marks.'
        : guess(nearest, known),
  }),
  'split-number': ({ written, write }) => ({
    say: `Inside { } and [ ] a comma ends the value, so "${written}" falls into two.`,
    mend: `Write a point: ${write}.`,
  }),
  'missing-key': ({ key }) => ({
    say: `The key "${key}" is missing.`,
    mend:
      key === 'trial'
        ? 'Add a line such as "trial: what was tried".'
        : `Add "${key}:"; its value may come later.`,
  }),
  'wrong-shape': ({ expected, got }, key) => ({
    say: `${key === '' ? 'This file' : `"${key}"`} holds ${SHAPES[got]} where ${list(expected.map((shape) => SHAPES[shape]))} belongs.`,
    mend:
      got === 'nothing'
        ? 'Fill it in, or take the empty entry out.'
        : 'See the README for how it is written.',
  }),
  'unknown-word': ({ written, nearest, known }) => ({
    say: `"${written}" is not one of the words that can stand here.`,
    mend: nearest !== null ? `Did you mean "${nearest}"?` : `Write ${list(known)}.`,
  }),
  'bad-slot-name': ({ written }) => ({
    say: `"${written}" cannot be the name of a slot.`,
    mend: 'Use black, cyan, magenta, yellow, or a name of your own without #.',
  }),
  'empty-text': () => ({ say: 'Nothing is said here.', mend: 'Write a few words, or take the key out.' }),
  'wrong-length': ({ expected, got }, key) => ({
    say: `"${key}" holds ${got} values; it takes ${expected}.`,
    mend: 'Inside [ ] a comma parts the values; decimals are written with a point.',
  }),
  comma: ({ written, write }) => ({
    say: `"${written}" has a comma in its number.`,
    mend: `Decimals are written with a point and thousands without a mark: ${list(write)}.`,
  }),
  'grouped-digits': ({ written, write }) => ({
    say: `The digits of "${written}" are set apart.`,
    mend: `Write them together: ${list(write)}.`,
  }),
  'not-a-number': ({ written }) => ({
    say: `"${written}" does not begin with a number.`,
    mend: 'Write digits, then the unit: 948 g. Leave the value empty while it has not been read.',
  }),
  'too-many-digits': ({ written }) => ({
    say: `"${written}" has more digits than any instrument shows.`,
    mend: 'Write it as it was read.',
  }),
  'number-too-large': ({ written }) => ({ say: `"${written}" is beyond 10^12.`, mend: 'Check the digits.' }),
  'number-too-small': ({ written }) => ({
    say: `"${written}" is closer to zero than 10^-12.`,
    mend: 'Check the digits, or write 0.',
  }),
  'unknown-unit': ({ written, unit, accepted }) => ({
    say: `"${written}" has a unit, "${unit}", that does not fit here.`,
    mend:
      accepted.length > 0
        ? `Use ${list(accepted)}, or a bare number in ${accepted[0] ?? ''}.`
        : 'Write a bare number.',
  }),
  'unknown-currency': ({ written, currency }) => ({
    say:
      currency === ''
        ? `"${written}" does not say in which currency.`
        : `"${currency}" is no ISO 4217 code of a currency.`,
    mend: 'Write the price with its code: 41.50 EUR.',
  }),
  'not-whole': ({ written }) => ({
    say: `"${written}" is not a whole number.`,
    mend: 'Pages and counts are whole.',
  }),
  'too-low': ({ written, least, unit }) => ({
    say: `"${written}" is below ${least}${unit === '1' ? '' : ` ${unit}`}, which cannot be.`,
    mend: 'Check the reading and its sign.',
  }),
  'too-high': ({ written, greatest, unit }) => ({
    say: `"${written}" is above ${greatest}${unit === '1' ? '' : ` ${unit}`}, which cannot be.`,
    mend: 'Check the reading and its unit.',
  }),
  'not-positive': ({ written }) => ({
    say: `"${written}" must be more than zero.`,
    mend: 'Check the number.',
  }),
  'not-a-time': ({ written }) => ({
    say: `"${written}" is not a date or time as ISO 8601 writes it.`,
    mend: 'Write 2026-03-09, 2026-03-09T14:30 or 2026-03-09T14:30+01:00.',
  }),
  'no-such-time': ({ written }) => ({
    say: `There is no such time as "${written}".`,
    mend: 'Check day, month and hour.',
  }),
  'not-a-digest': ({ written }) => ({
    say: `"${written}" is not a SHA-256.`,
    mend: 'It has 64 hexadecimal digits; sha256sum FILE prints it.',
  }),

  'end-below-start': ({ start, end }) => ({
    say: `The meter ends at ${end}, below its start at ${start}.`,
    mend: 'If the two were exchanged, swap them; if the counter rolled over, add "digits:" with the number of its digits.',
  }),
  'more-digits-than-counter': ({ written, digits }) => ({
    say: `${written} has more digits than a counter of ${digits}.`,
    mend: 'Check the reading and "digits".',
  }),
  'other-pages-exceed-run': ({ other, run }) => ({
    say: `${other} pages not of the trial are more than the ${run} pages of the run.`,
    mend: 'Check the meter and "other_pages".',
  }),
  'final-below-tare': ({ tare, final }) => ({
    say: `The container weighs ${final} after the run and ${tare} empty; waste cannot weigh less than nothing.`,
    mend: 'Weigh again, or swap the two if they were exchanged.',
  }),
  'interim-below-tare': ({ tare, mass }) => ({
    say: `The container weighs ${mass} here, less than the ${tare} it weighs empty.`,
    mend: 'Weigh again, or check the digits of both.',
  }),
  'interim-above-final': ({ mass, final }) => ({
    say: `The container weighs ${mass} here, more than the ${final} it weighs after the run.`,
    mend: 'Check the digits of both; if the container was changed, list both containers.',
  }),
  'interim-falls': ({ before, mass }) => ({
    say: `The container weighs ${mass} here, less than the ${before} at the checkpoint before.`,
    mend: 'Check the digits of both; if the container was changed, list both containers.',
  }),
  'outside-run': ({ written, start, end }) => ({
    say: `${written} is not a meter reading of this run, ${start} to ${end}.`,
    mend: 'Check the digits of the reading, and the ends of the meter.',
  }),
  'out-of-order': ({ before, written }) => ({
    say: `${written} does not come after ${before}.`,
    mend: 'Check the digits of both, and their order.',
  }),
  'before-fitted': ({ written, installed }) => ({
    say: `${written} comes before the cartridge was fitted, at ${installed}.`,
    mend: 'Check the digits of both.',
  }),
  'cartridges-overlap': ({ slot, written, previous }) => ({
    say: `The cartridge before it ${slot === '' ? '' : `in slot ${slot} `}was still in the machine at ${previous}, and this one speaks of ${written}.`,
    mend: 'List the cartridges of a slot in the order they were fitted, and check the readings.',
  }),
  'mass-rises': ({ start, end }) => ({
    say: `The cartridge weighs ${end} after its run and ${start} before it; printing adds no toner.`,
    mend: 'Weigh again, or swap the two if they were exchanged.',
  }),
  'part-exceeds-whole': ({ part, whole, wholeKey }) => ({
    say: `${part} is more than the ${whole} of "${wholeKey}" that it is a part of.`,
    mend: 'Check both.',
  }),
  'gauge-rises': ({ start, end }) => ({
    say: `The gauge shows ${end} after the run and ${start} before it.`,
    mend: 'Swap the two if they were exchanged; if the cartridge was changed, list both.',
  }),
  'exhausted-where': () => ({
    say: '"exhausted_by" says the cartridge was exhausted, but not at which meter reading: its yield counts as at least what it printed.',
    mend: 'Add "exhausted_at:" with the meter reading.',
  }),
  'failed-where': () => ({
    say: '"failed_by" says the cartridge failed, but not at which meter reading.',
    mend: 'Add "failed_at:" with the meter reading.',
  }),
  'ends-before-start': ({ start, end }) => ({
    say: `${end} comes before ${start}, which should be earlier.`,
    mend: 'Check the dates, or swap them if they were exchanged.',
  }),
  'times-mixed': ({ written, first }) => ({
    say: `${written} and ${first} cannot be put in order: one has an offset from UTC, the other none.`,
    mend: 'Give every time of the file an offset, or none.',
  }),
  'unknown-slot': ({ slot, slots }) => ({
    say: `No cartridge is in a slot "${slot}".`,
    mend: `The slots of this run are ${list(slots, 'and')}.`,
  }),
  'tolerance-exceeds-value': ({ value, tolerance }) => ({
    say: `A tolerance of ${tolerance} is more than the coverage of ${value} itself.`,
    mend: 'Both are in percent of the page: 5 % that may be off by half a percent has tolerance 0.5 %.',
  }),
  'border-exceeds-paper': ({ border }) => ({
    say: `A border of ${border} all round leaves nothing of the page.`,
    mend: 'Check the border and the paper size.',
  }),
  'runs-overlap': () => ({
    say: 'The reference run covers meter readings that the trial’s run covers too.',
    mend: 'Two runs of one machine may touch, not overlap: check the four readings.',
  }),
  'patch-twice': ({ patch }) => ({
    say: `The patch "${patch}" is listed twice.`,
    mend: 'Give each patch a name of its own.',
  }),

  'limit-without-bound': () => ({
    say: 'This limit has neither "min" nor "max".',
    mend: 'Add the one that was agreed.',
  }),
  'limit-reversed': ({ min, max }) => ({
    say: `No figure is at least ${min} and at most ${max}.`,
    mend: 'Swap the two.',
  }),
  'limit-of-whole-figure': ({ figure }) => ({
    say: `"${figure}" is not a figure of parts here, so "of" says nothing.`,
    mend: 'Take "of" out.',
  }),
  'limit-without-stat': ({ figure, stat, known }) => ({
    say: `"${figure}" has no ${stat}.`,
    mend: known.length > 0 ? `It has ${list(known, 'and')}.` : 'Take "stat" out.',
  }),
  'limit-of-unknown-part': ({ figure, of, parts }) => ({
    say: `This trial has no "${of}" that "${figure}" could be derived for.`,
    mend:
      parts.length > 0
        ? `It has ${list(parts, 'and')}.`
        : 'Its cartridges have no slots; take "of" out, or name the slots.',
  }),
  'limit-not-applied': ({ figure, of, from }) => ({
    say: `The limit on ${figure} of ${of} from ${from} was not applied: this trial has no ${of}.`,
    mend: '',
  }),
  'unknown-preset': ({ preset, known, nearest }) => ({
    say: `There is no preset "${preset}".`,
    mend: `${nearest !== null ? `Did you mean "${nearest}"? ` : ''}The presets are ${list(known, 'and')}; a file ends in .yaml or .yml.`,
  }),
  'limits-unreadable': ({ file, why }) => ({ say: `The limits in ${file} cannot be used: ${why}`, mend: '' }),

  'readings-sorted': () => ({
    say: 'This reading comes before the one above it; the readings were put in order.',
    mend: 'Check that it was written down right.',
  }),
  'rolled-over': ({ digits }) => ({
    say: `The meter ends below its start: a counter of ${digits} digits rolled over once.`,
    mend: '',
  }),
  'proportional-scaling': ({ slot }) => ({
    say: `The yield${slot === '' ? '' : ` of ${slot}`} was scaled in proportion to coverage: "non_image_usage" needs the toner used per page to be set against.`,
    mend: 'Weigh the cartridge before and after, or give its fill_mass once it is exhausted.',
  }),
  'within-uncertainty': ({ figure, of, stat, room, U, unit, probability }) => ({
    say: `${[stat, figure, of === null ? '' : `of ${of}`].filter(Boolean).join(' ')} is ${shortest(room)} ${unit} from its limit, less than its uncertainty of ${shortest(U)} ${unit}: the true value keeps to the limit with a probability of ${probability}.`,
    mend: 'A finer instrument or a longer run would tell; the guarded rule would leave this open.',
  }),
  'to-be-read': ({ reading }) => ({ say: `${reading} is still to be read.`, mend: '' }),
  'no-reject-limit': () => ({
    say: 'No limit was agreed that could condemn the lot, so nothing was decided.',
    mend: 'Add "limits:" to the trial, or give --limits with a file or preset.',
  }),
};

/** A plain decimal cut to two significant digits, for use in a sentence. */
function shortest(decimal: string): string {
  const value = Number(decimal);
  if (value === 0) return '0';
  const places = Math.max(0, 1 - Math.floor(Math.log10(Math.abs(value))));
  return value.toFixed(Math.min(places, 12));
}

/** What there is to say of a problem, and how it is mended; either may be long, neither ends the line. */
export function wordsOf(problem: Problem): Said {
  const word = WORDS[problem.code] as (fault: Fault, key: string) => Said;
  return word(problem, lastKey(problem.path) ?? '');
}

/** Both in one line. */
export function messageOf(problem: Problem): string {
  const { say, mend } = wordsOf(problem);
  return mend === '' ? say : `${say} ${mend}`;
}

/** Why a figure has no value, or a limit is open. */
export function reasonWords(reason: OpenReason): string {
  switch (reason.code) {
    case 'reading-missing':
      return `${dotted(reason.path)} is still to be read`;
    case 'no-readings':
      return `${dotted(reason.path)} holds no such reading`;
    case 'no-such-part':
      return `the trial has no ${reason.part}`;
    case 'divisor-zero':
      return `${reason.divisor} is zero, and nothing can be divided by it`;
    case 'logarithm-of-zero':
      return `${dotted(reason.path)} is zero, which has no logarithm`;
    case 'outside-formula':
      return `${dotted(reason.path)} is outside the formula’s range of ${reason.range}`;
    case 'bounds-conflict':
      return 'one of its inputs is only a lower bound and another only an upper one';
    case 'coverage-zero':
      return `${dotted(reason.path)} is zero, from which no yield follows`;
    case 'usage-below-non-image':
      return `${dotted(reason.path)} is more than the toner used per page`;
    case 'capacities-differ':
      return `${dotted(reason.path)} differs between the containers`;
    case 'cartridge-changed':
      return 'a cartridge was changed, and "cartridges" does not list them';
    case 'only-at-least':
      return 'the cartridge was not exhausted: the figure is only a lower bound';
    case 'only-at-most':
      return 'the figure is only an upper bound';
    case 'within-guard-band':
      return 'it is closer to the limit than the guard band';
  }
}
