import { isSaid } from '../judge/doubt/all.ts';
import { LEAST_PER_AREA } from '../judge/doubt/toner.ts';
import { valueOf } from '../judge/facts.ts';
import type { Problem } from '../problems/problem.ts';
import type { Check } from './check.ts';

/** Toner drawn for a covered square centimetre, in mg: wide bounds; common practice, no source. */
const GREATEST_PER_AREA = 5;

/** Toner per page is what the coverage can explain. */
export const usageExplained: Check = ({ trial: { run }, derived, doubts }) =>
  run.cartridges.flatMap((cartridge): Problem[] => {
    const usage = valueOf(derived, 'usage_per_area', cartridge.name);
    if (usage === null) return [];
    const { path } = cartridge.endMass;
    // What is in doubt has been said.
    if (isSaid(doubts, 'usage-implausible', path)) return [];
    if (usage.value.gte(LEAST_PER_AREA) && usage.value.lte(GREATEST_PER_AREA)) return [];
    return [
      {
        code: 'usage-implausible',
        slot: cartridge.name ?? '',
        usage: usage.value.toSignificantDigits(3).toFixed(),
        path,
      },
    ];
  });
