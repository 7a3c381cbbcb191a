import { brief } from '../../uncertainty/decimal.ts';
import { runsOf } from '../facts.ts';
import { type Contradiction, type DoubtRule, taken } from './doubt.ts';

/** Two readings of one density scatter by no more than this share; common practice, no source. */
const SCATTER = 0.05;

/** A rub or a tape takes toner off: the density after it is no higher than before. */
export const fixingFalls: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }): Contradiction[] => {
    const { before, after } = run.prints.fixing;
    if (!before.measured || !after.measured) return [];
    const more = after.measured.minus(before.measured);
    if (more.value.lte(more.u.times(2).plus(before.measured.value.times(SCATTER)))) return [];
    const fault = {
      code: 'fixing-gains',
      before: brief(before.measured.value),
      after: brief(after.measured.value),
    } as const;
    return [{ fault, path: after.path, readings: taken(before, after) }];
  });
