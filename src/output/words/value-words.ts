import { list, SHAPES, guess, wordless, type Words } from './said.ts';

/** A clock without a day. */
const CLOCK = /^\s*\d{1,2}:\d{2}\s*$/;

/** Keys, shapes and single values. */
export const VALUE_WORDS = {
  'unknown-key': ({ key, nearest, known, belongs, empty }) => ({
    say: `There is no key "${key}" here.`,
    mend:
      belongs.length > 0
        ? `It belongs under ${list(belongs.map(({ under }) => `"${under}"`))}: ${list(belongs.map(({ line }) => line))}.`
        : empty && nearest === null
          ? 'Inside { } a comma ends a value: put a text that holds one in quotation marks.'
          : guess(nearest, known),
  }),
  'split-number': ({ written, write }) => ({
    say: `Inside { } and [ ] a comma ends the value, so "${written}" falls into two.`,
    mend: `Decimals are written with a point and thousands without a mark${write.length === 0 ? '' : `: ${list(write)}`}.`,
  }),
  'missing-key': ({ key }) => ({
    say: `The key "${key}" is missing.`,
    mend:
      key === 'trial'
        ? 'Add a line such as "trial: what was tried".'
        : `Add "${key}:"; its value may come later.`,
  }),
  'wrong-shape': ({ expected, got, write }, key) => ({
    say: `${key === '' ? 'This file' : `"${key}"`} holds ${SHAPES[got]} where ${list(expected.map((shape) => SHAPES[shape]))} belongs.`,
    mend:
      got === 'nothing'
        ? 'Fill it in, or take the empty entry out.'
        : write === null
          ? 'The manual has every key: tallytare help trial-file.'
          : `Write ${write}.`,
  }),
  'unknown-word': ({ written, nearest, known }, key) => ({
    say:
      written === ''
        ? key === 'severity'
          ? 'The finding has no severity.'
          : 'Nothing is written here.'
        : `"${written}" is not one of the words that can stand here.`,
    mend: nearest !== null ? `Did you mean "${nearest}"?` : `Write ${list(known)}.`,
  }),
  'bad-slot-name': ({ written }) => ({
    say: `"${written}" cannot be the name of a slot.`,
    mend: 'Use black, cyan, magenta, yellow, or a name of your own without #.',
  }),
  'empty-text': () => ({ say: 'Nothing is said here.', mend: 'Write a few words, or take the key out.' }),
  'half-character': ({ written }) => ({
    say: `"${written}" has half a character in it.`,
    mend: 'Write the whole character, or take the \\ud… out.',
  }),
  'hidden-character': ({ written, character }) => ({
    say: `"${written}" has a character that cannot be seen: ${character}.`,
    mend: 'Names that look alike must be alike. Type the name again, without copying it.',
  }),
  'wrong-length': ({ least, expected, got }, key) => ({
    say: `"${key}" holds ${got} values; it takes ${least === undefined ? '' : `${least} to `}${expected}.`,
    mend: 'Inside [ ] a comma parts the values; decimals are written with a point.',
  }),
  comma: ({ written, write }) => ({
    say: `"${written}" has a comma in its number.`,
    mend: `Decimals are written with a point and thousands without a mark${write.length === 0 ? '' : `: ${list(write)}`}.`,
  }),
  'grouped-digits': ({ written, write }) => ({
    say: `The digits of "${written}" are set apart.`,
    mend: `Write them together${write.length === 0 ? '' : `: ${list(write)}`}.`,
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
  'unknown-currency': ({ written, currency, write }) => ({
    say:
      currency === ''
        ? `"${written}" does not say in which currency.`
        : `"${currency}" is no ISO 4217 code of a currency.`,
    mend: `Write the price with its code: ${list(write)}.`,
  }),
  'not-whole': ({ written }) => ({
    say: `"${written}" is not a whole number.`,
    mend: 'Pages and counts are whole.',
  }),
  'too-low': ({ written, least, unit }) => ({
    say: `"${written}" is below ${least}${wordless(unit)}, which cannot be.`,
    mend: 'Check the reading and its sign.',
  }),
  'too-high': ({ written, greatest, unit }) => ({
    say: `"${written}" is above ${greatest}${wordless(unit)}, which cannot be.`,
    mend: 'Check the reading and its unit.',
  }),
  'not-positive': ({ written }) => ({
    say: `"${written}" must be more than zero.`,
    mend: 'Check the number.',
  }),
  'not-a-time': ({ written, readings }) => ({
    say:
      readings.length === 0
        ? `"${written}" is not a date or time as ISO 8601 writes it.`
        : `"${written}" does not say which number is the day and which the month.`,
    mend:
      readings.length === 0
        ? CLOCK.test(written)
          ? `Write its day too, as in 2026-03-09T${written.trim().padStart(5, '0')}.`
          : 'Write 2026-03-09, 2026-03-09T14:30 or 2026-03-09T14:30+01:00.'
        : `The year stands first, then the month: write ${list(readings)}.`,
  }),
  'typed-otherwise': ({ written, write }) => ({
    say: `"${written}" is read as ${write}.`,
    mend: 'Write it so.',
  }),
  'no-such-time': ({ written }) => ({
    say: `There is no such time as "${written}".`,
    mend: 'Check day, month and hour.',
  }),
  'not-a-digest': ({ written }) => ({
    say: `"${written}" is not a SHA-256.`,
    mend: 'It has 64 hexadecimal digits; sha256sum FILE prints it.',
  }),
} satisfies Partial<Words>;
