import type { OpenReason } from '../judge/judge.ts';
import { dotted, type Path } from '../uncertainty/path.ts';
import type { SeenApart } from '../figures/seen-apart.ts';
import { list } from './words/said.ts';

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
      return 'a cartridge was changed, and "cartridges" does not list every one';
    case 'container-changed':
      return 'the waste container was changed, and "waste_container" does not list every one';
    case 'not-given':
      return `${dotted(reason.path)} is not given`;
    case 'too-many-batches':
      return `${dotted(reason.path)} makes more than ${reason.most} batches`;
    case 'claim-above-expected':
      return `${dotted(reason.path)} is not below the yield expected: no number of cartridges supports it`;
    case 'claim-beyond-trying':
      return `${dotted(reason.path)} is so close to the yield expected that ${reason.most} machines would not show it: claim less, or know the coverage better`;
    case 'qualities-too-close':
      return `${dotted(reason.path)} is not below target.lot.limiting_quality, in whole cartridges of this lot`;
    case 'lot-beyond-trying':
      return `${dotted(reason.path)} asks for more than ${reason.most} cartridges to be tried: agree on shares that are further apart, or on larger ones`;
    case 'error-above-margin':
      return `${dotted(reason.path)} alone takes more than a tenth of the margin to the limit`;
    case 'no-margin':
      return `by ${dotted(reason.path)} the limit is passed already`;
    case 'doubted':
      return `${reason.doubt}: it rests on ${list(reason.readings, 'and')}, which ${reason.readings.length === 1 ? 'is' : 'are'} in doubt`;
    case 'still-in-at-end':
      return 'put in for another, and still in when the run ended: it was not run to its end';
    case 'seen-differently':
      return `people differ on ${reason.prints.map(apartWords).join('; ')}`;
    case 'only-at-least':
      return 'the cartridge was not exhausted: the figure is only a lower bound';
    case 'only-at-most':
      return 'the figure is only an upper bound';
    case 'within-guard-band':
      return 'it is closer to the limit than the guard band';
  }
}

/**
 * Which reading would decide an open limit, in a sentence; `largest` is the input that most of the figure's
 * uncertainty comes from, unless it is that of repeated trials.
 */
export function wouldDecide(reason: OpenReason, largest: Path | null, repeated: boolean): string {
  switch (reason.code) {
    case 'reading-missing':
    case 'no-readings':
      return `Read ${dotted(reason.path)}.`;
    case 'doubted':
      return `Check ${list(reason.readings, 'and')}; what is right is noted under "checked".`;
    case 'seen-differently':
      return 'Look at the prints together, and agree; or ask a third person.';
    case 'still-in-at-end':
    case 'only-at-least':
    case 'only-at-most':
      return 'Run the cartridge until exhausted, and note the meter (exhausted_at).';
    case 'within-guard-band':
      if (repeated) return 'More trials of this lot: one alone does not tell.';
      return largest === null
        ? 'A longer run.'
        : `Read ${dotted(largest)} with a finer instrument, or run longer.`;
    case 'container-changed':
      return 'List every container with its two weights.';
    case 'cartridge-changed':
      return 'List the cartridges with the meter readings at which they were fitted and taken out.';
    case 'no-such-part':
      return `A trial that has ${reason.part}.`;
    case 'divisor-zero':
      return `A run in which ${reason.divisor} is not zero.`;
    case 'capacities-differ':
      return 'Containers of one capacity.';
    case 'bounds-conflict':
      return 'Run the cartridges until exhausted, in the trial and in the reference run.';
    case 'logarithm-of-zero':
    case 'outside-formula':
    case 'coverage-zero':
    case 'usage-below-non-image':
    case 'not-given':
    case 'too-many-batches':
    case 'claim-above-expected':
    case 'claim-beyond-trying':
    case 'qualities-too-close':
    case 'lot-beyond-trying':
    case 'error-above-margin':
    case 'no-margin':
      return `Check ${dotted(reason.path)}, and read it again.`;
  }
}

/** What each of the people said of a print: "background, cyan (R. Okoye minor, L. Brandt major)". */
const apartWords = ({ print: { attribute, slot }, views }: SeenApart): string =>
  `${[attribute, slot].filter((one) => one !== null).join(', ')} (${views.map(({ by, severity }) => `${by} ${severity}`).join(', ')})`;
