import { list, type Words } from './said.ts';

/** Rules between readings. */
export const RULE_WORDS = {
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
  'other-pages-twice': ({ other }) => ({
    say: `Pages that are not of the trial are given twice: ${other} as "other_pages", and as a batch with "other: true".`,
    mend: 'Keep one of them: "other_pages" is for pages of which nobody knows when they were printed.',
  }),
  'batch-slot-unknown': ({ slot, slots }) => ({
    say: `This batch has a coverage for the slot "${slot}", and the run has no such slot: it would count for nothing.`,
    mend:
      slots.length === 0
        ? 'Name the slot at its cartridge or in the coverage of the run too; or give the batch one coverage without a slot.'
        : `The slots of this run are ${list(slots, 'and')}.`,
  }),
  'mass-of-which-slot': ({ slots }) => ({
    say: 'This mass does not say which cartridge it is of.',
    mend: `Write it with its slot, as in cartridge_mass: {${slots[0] ?? 'black'}: 801.2 g}.`,
  }),
  'final-below-tare': ({ tare, final }) => ({
    say: `The container weighs ${final} after the run and ${tare} empty; waste cannot weigh less than nothing.`,
    mend: 'Weigh again, or swap the two if they were exchanged.',
  }),
  'interim-below-tare': ({ tare, mass }) => ({
    say: `The container weighs ${mass} here, less than the ${tare} it weighs empty.`,
    mend: 'Weigh again, or check the digits of both.',
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
  'coverage-without-cartridge': ({ slot, slots }) => ({
    say: `There is a coverage for the slot "${slot}", and no cartridge listed in it: nothing is derived for it.`,
    mend: `Cartridges are listed for ${list(slots, 'and')}; correct the name if it is one of these.`,
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
  'shares-amiss': ({ sum }) => ({
    say: `The shares add up to ${sum} %.`,
    mend: 'They are of all pages: give each kind of page its share, so that they add up to 100 %.',
  }),
  'kind-twice': ({ kind }) => ({
    say: `The kind "${kind}" is listed twice.`,
    mend: 'Give each kind of page a name of its own, or put the two together.',
  }),
  'patch-twice': ({ patch }) => ({
    say: `The patch "${patch}" is listed twice.`,
    mend: 'Give each patch a name of its own.',
  }),
} satisfies Partial<Words>;
