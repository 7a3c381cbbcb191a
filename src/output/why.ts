import type { Assessed } from '../judge/assess.ts';
import type { Judged } from '../judge/judge.ts';
import { nameOf } from './text-figures.ts';
import { paired } from './text-limits.ts';

export const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** What a verdict speaks of. */
export const SPEAKS_OF = 'This speaks of the sample tried, in this machine and this room.';

/** Why the verdict is what it is, in a sentence. */
export function whyVerdict({ ground, judged }: Assessed): string {
  const named = (outcome: Judged['outcome'], weights: readonly string[]): string => {
    const names = paired(judged)
      .filter((one) => one.outcome === outcome && weights.includes(one.weight))
      .map(({ derived }) => nameOf(derived));
    const shownNames = names.slice(0, 4).join('; ');
    return names.length > 4 ? `${shownNames}; and ${names.length - 4} more` : shownNames;
  };
  return {
    'condition-missed': `A condition was not kept, which voids the trial: ${named('missed', ['condition'])}.`,
    'reject-missed': `Missed: ${named('missed', ['reject'])}.`,
    open: `Cannot be decided from these readings: ${named('open', ['reject', 'condition'])}.`,
    'unspoken-finding': 'A critical finding was recorded, and no limit speaks of findings.',
    'unspoken-failure': 'A cartridge failed, and no limit speaks of failures.',
    'short-of-target': 'The run ended more than a batch short of the pages planned.',
    caveats: 'All limits were kept; taken strictly, what stands below keeps it from passing.',
    'no-reject-limit': 'No limit was agreed that could condemn the lot, so nothing was decided.',
    'all-met': `Kept: ${count(judged.filter(({ outcome }) => outcome === 'met').length, 'limit')} of ${judged.length}.`,
  }[ground];
}
