import { valueOf } from '../judge/facts.ts';
import type { Problem } from '../problems/problem.ts';
import type { Check } from './check.ts';

/** Toner drawn for a covered square centimetre, in mg: wide bounds; common practice, no source. */
const LEAST_PER_AREA = 0.1;
const GREATEST_PER_AREA = 5;

/** Toner per page is what the coverage can explain. */
export const usageExplained: Check = ({ trial: { run }, derived }) =>
  run.cartridges.flatMap((cartridge): Problem[] => {
    const usage = valueOf(derived, 'usage_per_area', cartridge.name);
    if (usage === null) return [];
    if (usage.value.gte(LEAST_PER_AREA) && usage.value.lte(GREATEST_PER_AREA)) return [];
    return [
      {
        code: 'usage-implausible',
        slot: cartridge.name ?? '',
        usage: usage.value.toSignificantDigits(3).toFixed(),
        path: cartridge.endMass.path,
      },
    ];
  });
