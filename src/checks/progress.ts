import { need } from '../figures/figure.ts';
import { wasteOfTrial } from '../figures/waste-mass.ts';
import { wastePerThousandOf } from '../figures/waste-per-thousand.ts';
import { checkpointsOf, meterAfter } from '../plan/checkpoints.ts';
import { planned, valueOf as plannedValue } from '../plan/planned.ts';
import { outlook, type Progress, progressOf, weighed } from '../plan/progress.ts';
import { rateSoFar } from '../plan/waste.ts';
import type { Problem } from '../problems/problem.ts';
import type { Trial } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { shortNumber, withU } from './short-number.ts';
import { valueOf } from '../judge/facts.ts';
import type { Check } from './check.ts';

/** What can be said while the run goes on: how far it has come, what is next, and what is to come. */

export const plannedPages = ({ data }: Trial): Decimal | null => data.target?.pages?.value ?? null;

/** How far the run has come, what is next, and how long the rest takes. */
export const runUnderWay: Check = ({ trial }) => {
  const now = progressOf(trial);
  if (now === null) return [];
  const { path } = now.batch.end;
  const target = plannedPages(trial);
  const done = now.pages.value;
  const checkpoints = target === null ? null : plannedValue(planned(() => checkpointsOf(trial, target)));
  const next = checkpoints?.find(({ pages }) => pages.gt(done));
  const ahead = target === null || done.gte(target) ? null : outlook(trial, target);
  return [
    {
      code: 'run-under-way',
      pages: shortNumber(done),
      target: target?.toFixed() ?? null,
      percent: target && done.times(100).div(target).toDecimalPlaces(0).toFixed(),
      next: next?.end?.toFixed() ?? null,
      batch: next?.batch ?? null,
      path,
    },
    ...(ahead === null
      ? []
      : [
          {
            code: 'run-expected-end' as const,
            speed: ahead.speed.toDecimalPlaces(0).toFixed(),
            hours: ahead.hours.toSignificantDigits(2).toFixed(),
            day: ahead.day,
            path,
          },
        ]),
  ];
};

/** The waste rate up to the last weighing, carried on to the planned pages; and a container that will be full. */
export const wasteSoFar: Check = ({ trial }) => {
  const now = weighed(trial);
  if (now === null || now.pages.value.isZero()) return [];
  const { path } = now.batch.containerMass;
  const target = plannedPages(trial);
  const rate = wastePerThousandOf(now.run);
  const fills = containerFills(trial, now, rateSoFar(now.run).value, target);
  // What is in the container is not the waste of these pages alone.
  if (rate.bound !== 'exact') return fills;
  return [
    {
      code: 'waste-so-far',
      waste: withU(wasteOfTrial(now.run)),
      pages: shortNumber(now.pages.value),
      rate: withU(rate),
      expected: target?.gt(now.pages.value) ? withU(rate.times(target.div(1000))) : null,
      path,
    },
    ...fills,
  ];
};

function containerFills(trial: Trial, now: Progress, rate: Decimal, target: Decimal | null): Problem[] {
  const last = now.run.containers.at(-1);
  if (!last?.capacity || target === null || rate.isNegative()) return [];
  const left = last.capacity.minus(need(last.final).minus(need(last.tare)).value);
  const full = now.pages.value.plus(left.times(1000).div(rate)).floor();
  if (full.gte(target)) return [];
  const at = meterAfter(trial, full)?.toFixed() ?? '';
  return [
    { code: 'container-fills', at, capacity: last.capacity.toFixed(), path: [...last.path, 'capacity'] },
  ];
}

/** A run that has ended short of what was planned, with cartridges that are not exhausted. */
export const shortOfTarget: Check = ({ trial, derived, silences }) => {
  const target = plannedPages(trial);
  const pages = valueOf(derived, 'pages');
  if (target === null || pages === null || pages.value.gte(target)) return [];
  // By more than a batch has been said.
  if (silences.some(({ code }) => code === 'short-of-target')) return [];
  if (trial.run.cartridges.every(({ exhausted }) => exhausted)) return [];
  return [
    {
      code: 'run-short-of-target',
      pages: shortNumber(pages.value),
      target: target.toFixed(),
      path: ['meter', 'end'],
    },
  ];
};
