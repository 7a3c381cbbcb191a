import { Decimal } from '../../uncertainty/decimal.ts';
import { shown } from '../numbers.ts';
import { list, type Words } from './said.ts';

const named = (slots: readonly string[]): string =>
  list(
    slots.map((slot) => slot || 'one without a name'),
    'and',
  );

const percents = (coverages: readonly string[]): string =>
  list(
    coverages.map((coverage) => `${coverage} %`),
    'and',
  );

const AMISS = {
  'no-slots': { say: 'No slot is listed.', mend: 'List what each slot takes, or forecast the trials again.' },
  'slot-twice': { say: 'This slot is listed before.', mend: 'Keep one of the two.' },
  'half-a-range': {
    say: 'Of the coverages tried one end is missing.',
    mend: 'Give the least under from, the greatest under to.',
  },
  'range-reversed': {
    say: 'The least coverage tried is above the greatest.',
    mend: 'Give the least under from, the greatest under to.',
  },
} as const;

/** Files that hold the toner a page takes at no coverage. */
export const USAGE_WORDS = {
  'usage-unreadable': ({ usage, why }) => ({
    say: `The usage file "${usage}" cannot be used: ${why}.`,
    mend: 'Its name counts from the folder of the file that names it; "tallytare forecast … --write usage.yaml" makes one.',
  }),
  'usage-outside': ({ usage }) => ({
    say: `The usage file "${usage}" is not in the folder of the file that names it, or below.`,
    mend: 'Put it there.',
  }),
  'usage-amiss': ({ what }) => AMISS[what],
  'usage-slots': ({ usage, slots, has }) => ({
    say: `"${usage}" tells ${named(has)}, and what is looked for is ${named(slots)}.`,
    mend: 'Name the slots alike, or forecast the trials of these cartridges.',
  }),
  'usage-other-model': ({ usage, model, own }) => ({
    say: `"${usage}" was found in a machine of model ${model}; this one is of model ${own}.`,
    mend: 'Another model takes another amount at no coverage. Try the cartridge in this one at several coverages, and forecast those.',
  }),
  'usage-beyond': ({ slot, from, to, pages, reference }) => ({
    say: `Toner at no coverage${slot === '' ? '' : ` in ${slot}`} was found with pages of ${from} % to ${to} %; ${list(
      [
        ...(pages.length === 0 ? [] : [`this run has pages of ${percents(pages)}`]),
        ...(reference === null ? [] : [`the yield is carried to ${reference} %`]),
      ],
      'and',
    )}.`,
    mend: 'Nobody tried the line there. Try the cartridge at that coverage too, and forecast the trials again.',
  }),
  'usage-read': ({ usage, model, machines, slots }) => ({
    say: `${usage}: ${list(
      slots.map(({ slot, m0, u, cartridges, from, to }) => {
        const { value, U } = shown(new Decimal(m0), new Decimal(u).times(2));
        const tried = [
          cartridges === null ? '' : `${cartridges} cartridges`,
          from === null || to === null ? '' : `${from} % to ${to} %`,
        ].filter(Boolean);
        return `${slot === null ? '' : `${slot} `}${value}${U === '' ? '' : ` ± ${U}`} mg a page at no coverage${tried.length === 0 ? '' : ` (${tried.join(', ')})`}`;
      }),
      'and',
    )}${machines.length === 0 ? '' : `, found in ${list(machines, 'and')}`}${model === null ? '' : `, model ${model}`}.`,
    mend: '',
  }),
} satisfies Partial<Words>;
