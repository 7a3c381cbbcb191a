import { lapsedBy } from '../plan/calibration.ts';
import { partsWorn } from '../plan/wear.ts';
import type { Problem } from '../problems/problem.ts';
import type { Time } from '../trial/time.ts';
import type { Trial } from '../trial/trial.ts';
import { brief, type Decimal, ZERO } from '../uncertainty/decimal.ts';
import type { Check } from './check.ts';

/** A part that reaches its rated life during the run spoils the trial. */
export const partsOutlastRun: Check = ({ trial }) => {
  const { target } = trial.data;
  const { start, end, clicksPerPage } = trial.run.meter;
  // Pages that are not of the trial wear a part as well.
  const pages =
    start.measured && end.measured
      ? end.measured.value.minus(start.measured.value).div(clicksPerPage)
      : target?.pages?.value;
  if (pages === undefined) return [];
  return partsWorn(trial, pages).map(({ index, part, life, at, before }) => ({
    code: 'part-reaches-life',
    part,
    life: life.toFixed(),
    at: at?.toFixed() ?? null,
    before,
    path: ['machine', 'parts', index, 'rated_life'],
  }));
};

/** Every day the file speaks of readings taken. */
function daysOf({ data, run, reference }: Trial): string[] {
  const head = typeof data.trial === 'string' ? null : data.trial;
  const times: (Time | null | undefined)[] = [head?.started, head?.finished];
  for (const one of reference ? [run, reference] : [run]) {
    times.push(...one.ambient.map(({ at }) => at));
    times.push(...one.batches.flatMap(({ started, finished }) => [started, finished]));
  }
  return times.flatMap((time) => time?.day ?? []);
}

/** Instruments were within their calibration on every day of the trial. */
export const instrumentsCalibrated: Check = ({ trial }) => {
  const last = daysOf(trial).toSorted().at(-1);
  if (last === undefined) return [];
  return lapsedBy(trial, last).map((lapsed) => ({
    code: 'calibration-ended',
    ...lapsed,
    path: ['instruments', lapsed.instrument, 'calibrated_until'],
  }));
};

/**
 * A check weight was shown as what it is, and the same before and after the run. A single reading may be off by the
 * scale's error and half a step; two of them may differ by a step, and by twice the error where that is not the same
 * each time. No reading is corrected by it.
 */
export const checkWeightHolds: Check = ({ trial: { data, checkWeight } }) => {
  if (checkWeight === null) return [];
  const { scale } = data.instruments ?? {};
  const { nominal, start, end } = checkWeight;
  const error = scale?.max_error?.value ?? ZERO;
  const stepOf = (key: 'start' | 'end'): Decimal =>
    scale?.resolution?.value ?? scale?.check?.[key]?.resolution ?? ZERO;
  const problems = ([start, end] as const).flatMap(({ path, measured }, index): Problem[] => {
    if (measured === null || nominal === null) return [];
    const [off, key] = [measured.value.minus(nominal), index === 0 ? 'start' : 'end'] as const;
    const allowed = error.plus(stepOf(key).div(2));
    if (off.abs().lte(allowed)) return [];
    const told = { shown: brief(measured.value), nominal: brief(nominal), off: brief(off.abs()) };
    return [{ code: 'check-weight-off', ...told, more: off.isPositive(), allowed: brief(allowed), path }];
  });
  if (start.measured === null || end.measured === null) return problems;
  const drift = end.measured.value.minus(start.measured.value);
  const steps = stepOf('start').plus(stepOf('end')).div(2);
  const allowed = scale?.shared_error ? steps : steps.plus(error.times(2));
  if (drift.abs().lte(allowed)) return problems;
  const told = { start: brief(start.measured.value), end: brief(end.measured.value) };
  const by = { drift: brief(drift.abs()), up: drift.isPositive(), allowed: brief(allowed) };
  return [...problems, { code: 'scale-drifts', ...told, ...by, path: end.path }];
};

/** No batch, nor a run without batches, was printed faster than the machine can. */
export const withinRatedSpeed: Check = ({ trial: { data, run } }) => {
  const rated = data.machine?.rated_speed?.value;
  if (!rated) return [];
  const head = typeof data.trial === 'string' ? null : data.trial;
  const whole = { end: run.meter.end, started: head?.started ?? null, finished: head?.finished ?? null };
  let from = run.meter.start.measured;
  let last: Time | null = null;
  return (run.batches.length > 0 ? run.batches : [whole]).flatMap(({ end, started, finished }): Problem[] => {
    const before = from;
    const since = started ?? last;
    [from, last] = [end.measured, finished];
    if (before === null || end.measured === null || !since || !finished) return [];
    if (since.kind === 'date' || finished.kind === 'date') return [];
    const minutes = (finished.seconds - since.seconds) / 60;
    const pages = end.measured.value.minus(before.value).div(run.meter.clicksPerPage);
    if (pages.lte(rated.times(minutes))) return [];
    return [
      {
        code: 'faster-than-rated',
        pages: pages.toSignificantDigits(6).toFixed(),
        minutes: String(Math.round(minutes * 10) / 10),
        rated: rated.toFixed(),
        path: end.path,
      },
    ];
  });
};
