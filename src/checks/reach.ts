import { containerLife } from '../figures/container-life.ts';
import { deriveAll } from '../figures/derive.ts';
import { type Figure, isDerived } from '../figures/figure.ts';
import { jamsPerThousand } from '../figures/jams-per-thousand.ts';
import { stopsPerThousand } from '../figures/stops-per-thousand.ts';
import { wasteMass } from '../figures/waste-mass.ts';
import { wastePerThousand } from '../figures/waste-per-thousand.ts';
import { decide } from '../judge/decide.ts';
import { type Limit, placeOf } from '../judge/limits.ts';
import { carriedOn, type Progress, progressOf, weighed } from '../plan/progress.ts';
import type { Problem } from '../problems/problem.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { shortNumber, withU } from './short-number.ts';
import { doubted } from '../judge/doubt/all.ts';
import type { Check, Checkable } from './check.ts';
import { plannedPages } from './progress.ts';

/** Whether the limits can still be kept, told while the run goes on; not by readings in doubt. */

/** Figures that only grow as a run of a given length goes on, and one that only falls. */
const GROWING: readonly Figure[] = [wasteMass, wastePerThousand, jamsPerThousand, stopsPerThousand];
const FALLING: readonly Figure[] = [containerLife];

/** Figures that go on as they did when the run does. */
const STEADY: readonly Figure[] = [wasteMass, wastePerThousand, containerLife];

/** Limits that can no longer be kept, and limits that would be missed if the run went on as it did. */
export const limitsStillInReach: Check = (facts) => {
  const target = plannedPages(facts.trial);
  const now = progressOf(facts.trial);
  if (target === null || now === null || now.pages.value.gt(target)) return [];
  const lost = outOfReach(facts, weighed(facts.trial) ?? now, target);
  const figures = new Set(lost.map(({ figure }) => figure));
  return [...lost, ...atRisk(facts, target).filter(({ figure }) => !figures.has(figure))];
};

type LimitProblem = Extract<Problem, { code: 'limit-out-of-reach' | 'limit-at-risk' }>;

/** Judged as if nothing more happened: what is missed even so is lost. */
function outOfReach({ agreed, doubts }: Checkable, now: Progress, target: Decimal): LimitProblem[] {
  const settings = { referenceCoverage: agreed.referenceCoverage };
  return deriveAll([...GROWING, ...FALLING], carriedOn(now, target), settings).flatMap((derived) => {
    const { figure, result } = derived;
    // What is only a bound already may turn out on either side of another.
    if (!isDerived(result) || result.bound !== 'exact' || doubted(result, doubts)) return [];
    const bound = GROWING.includes(figure) ? 'at_least' : 'at_most';
    return limitsOn(agreed.limits, figure).flatMap((limit): LimitProblem[] =>
      decide(result.as(bound), limit, agreed.decision, derived.bounds) === 'missed'
        ? [
            {
              code: 'limit-out-of-reach',
              ...said(limit),
              value: shortNumber(result.value),
              bound,
              path: placeOf(limit),
            },
          ]
        : [],
    );
  });
}

/** Judged as if the run were over: rates are what they are now, sums grow with the pages. */
function atRisk({ trial, agreed, doubts }: Checkable, target: Decimal): LimitProblem[] {
  const now = weighed(trial);
  if (now === null || now.pages.value.isZero()) return [];
  const settings = { referenceCoverage: agreed.referenceCoverage };
  return deriveAll(STEADY, now.run, settings).flatMap(({ figure, result }) => {
    if (!isDerived(result) || doubted(result, doubts)) return [];
    const then = figure === wasteMass ? result.times(target).over(now.pages, 'pages') : result;
    return limitsOn(agreed.limits, figure).flatMap((limit): LimitProblem[] =>
      decide(then, limit, agreed.decision) === 'missed'
        ? [{ code: 'limit-at-risk', ...said(limit), value: withU(then), path: placeOf(limit) }]
        : [],
    );
  });
}

const limitsOn = (limits: readonly Limit[], { name }: Figure): Limit[] =>
  limits.filter(({ figure }) => figure.name === name);

const said = ({ figure, min, max }: Limit) => ({
  figure: figure.name,
  min: min?.toFixed() ?? null,
  max: max?.toFixed() ?? null,
  unit: figure.unit,
});
