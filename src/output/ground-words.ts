import { expandedOf } from '../checks/near-limits.ts';
import { isDerived } from '../figures/figure.ts';
import type { Assessed } from '../judge/assess.ts';
import type { Judged } from '../judge/judge.ts';
import { SEVERITY } from '../trial/catalogue.ts';
import { cellOf, nameOf, unitOf } from './text-figures.ts';
import { limitText, paired } from './text-limits.ts';

export const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** What a verdict speaks of. */
export const SPEAKS_OF = 'This speaks of the sample tried, in this machine and this air.';

/** So many limits are named with their numbers; of the others there is a table. */
const MOST_NAMED = 3;

/** A figure with its value and what was agreed: waste per thousand pages, 30.6 g; at most 25 g was agreed. */
function againstLimit(one: Judged): string {
  const { derived } = one;
  const { result, unit } = derived;
  const value = isDerived(result)
    ? `, ${cellOf({ ...derived, result }, expandedOf(one, result)).trim()} ${unitOf(unit)}`.trimEnd()
    : '';
  return `${nameOf(derived)}${value}; ${limitText(one)} was agreed`;
}

/**
 * The figure closest to its limit, as a share of the limit. A severity that keeps to its limit mostly stands at it,
 * and says nothing of how close it was: it counts only where nothing else does.
 */
export function closest(judged: readonly Judged[]): Judged | null {
  const measured = judged.filter(({ derived }) => derived.unit !== SEVERITY);
  return closestOf(measured) ?? closestOf(judged);
}

function closestOf(judged: readonly Judged[]): Judged | null {
  const share = ({ margin, limit: { min, max } }: Judged): number => {
    const edge = max ?? min;
    return margin === null || edge === null || edge.isZero() ? Infinity : margin.div(edge).abs().toNumber();
  };
  return judged.reduce<Judged | null>(
    (least, one) =>
      one.outcome === 'met' && one.effect === 'fails' && (least === null || share(one) < share(least))
        ? one
        : least,
    null,
  );
}

/** Why the verdict is what it is, in a sentence or two, the most important thing first. */
export function groundWords({ ground, judged }: Pick<Assessed, 'ground' | 'judged'>): string {
  const named = (
    outcome: Judged['outcome'],
    effect: Judged['effect'],
    say: (one: Judged) => string,
  ): string => {
    const ones = paired(judged).filter((one) => one.outcome === outcome && one.effect === effect);
    const said = ones.slice(0, MOST_NAMED).map(say).join('. ');
    return ones.length > MOST_NAMED ? `${said}. And ${ones.length - MOST_NAMED} more` : said;
  };
  switch (ground) {
    case 'voids-missed':
      return `The trial proves nothing: ${named('missed', 'voids', againstLimit)}.`;
    case 'fails-missed':
      return `Missed: ${named('missed', 'fails', againstLimit)}.`;
    case 'open': {
      const names = [...paired(judged)]
        .filter(({ outcome, effect }) => outcome === 'open' && effect !== 'advises')
        .map(({ derived }) => nameOf(derived));
      const more = names.length > 4 ? `; and ${names.length - 4} more` : '';
      return `Cannot be decided from these readings: ${names.slice(0, 4).join('; ')}${more}.`;
    }
    case 'unspoken-finding':
      return 'A critical finding or print was recorded, and no limit speaks of it.';
    case 'unspoken-failure':
      return 'A cartridge failed, and no limit speaks of failures.';
    case 'short-of-target':
      return 'The run ended more than a batch short of the pages planned.';
    case 'caveats':
      return 'All limits are kept; taken strictly, what stands below keeps it from passing.';
    case 'no-fails-limit':
      return 'No limit was agreed that could condemn what was tried, so nothing was decided.';
    case 'all-met': {
      const near = closest(judged);
      return `Every limit that counts is kept.${near === null ? '' : ` Closest to its limit: ${againstLimit(near)}.`}`;
    }
  }
}
