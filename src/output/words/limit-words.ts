import { list, type Words } from './said.ts';

/** Limits, files and presets of limits. */
export const LIMIT_WORDS = {
  'effect-twice': () => ({
    say: 'This limit says twice what it means that it is missed.',
    mend: 'Leave "weight" out: it is the word of before for "effect".',
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
        : 'It lists no such part yet: take "of" out, or name its slots, patches or findings.',
  }),
  'limit-not-applied': ({ figure, of, from }) => ({
    say: `The limit on ${figure} of ${of} from ${from} was not applied: this trial has no ${of}.`,
    mend: '',
  }),
  'limit-in-two-currencies': ({ min, max }) => ({
    say: `"min" is in ${min} and "max" in ${max}.`,
    mend: 'Give both in one currency.',
  }),
  'limit-in-other-currency': ({ limit, prices }) => ({
    say: `This limit is in ${limit}, the prices are in ${prices}; they cannot be compared.`,
    mend: `Give the limit in ${prices}.`,
  }),
  'limit-currency-not-applied': ({ limit, prices, from }) => ({
    say: `The limit on cost_per_thousand from ${from} was not applied: it is in ${limit}, the prices are in ${prices}.`,
    mend: '',
  }),
  'currencies-differ': ({ written, first }) => ({
    say: `This price is in ${written}, an earlier one in ${first}; they cannot be added.`,
    mend: 'Give all prices of a trial in one currency.',
  }),
  'unknown-preset': ({ preset, known, nearest }) => ({
    say: `There is no preset "${preset}".`,
    mend: `${nearest !== null ? `Did you mean "${nearest}"? ` : ''}The presets are ${list(known, 'and')}; a file ends in .yaml or .yml.`,
  }),
  'limits-unreadable': ({ file, why }) => ({ say: `The limits in ${file} cannot be used: ${why}`, mend: '' }),
} satisfies Partial<Words>;
