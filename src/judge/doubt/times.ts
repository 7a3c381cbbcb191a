import type { Time } from '../../trial/time.ts';
import type { Trial } from '../../trial/trial.ts';
import type { Path } from '../../uncertainty/path.ts';
import { runsOf } from '../facts.ts';
import type { Contradiction, DoubtRule } from './doubt.ts';

const DAY = 24 * 3600;

/** A reading of the air may be taken so many days before or after the printing: the paper lies in that air first. */
const NEAR = 14;

/** Without any time of the run, readings that are so many days from every other one are not of the same run. */
const GAP = 60;

interface Dated {
  readonly time: Time;
  readonly path: Path;
}

/** When the run began and ended, as far as the file says. */
function spanOf(trial: Trial, times: readonly Time[]): { from: number | null; to: number | null } {
  const head = typeof trial.data.trial === 'string' ? null : trial.data.trial;
  const said = [head?.started, head?.finished, ...times].flatMap((time) => (time ? [time.seconds] : []));
  const started = head?.started?.seconds;
  const finished = head?.finished?.seconds;
  return {
    from: started ?? (said.length > 0 ? Math.min(...said) : null),
    to: finished ?? (times.length > 0 ? Math.max(...said) : null),
  };
}

const days = (seconds: number): number => Math.floor(seconds / DAY);

/** A reading of the air that was taken long before the run or long after it is not of this run, or misdated. */
export const airOfTheRun: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) => {
    const readings = run.ambient.flatMap(({ at, path }): Dated[] => (at ? [{ time: at, path }] : []));
    const batches = run.batches
      .flatMap(({ started, finished }) => [started, finished])
      .filter((t) => t !== null);
    const inOrder = readings.map(({ time }) => time.seconds).toSorted((a, b) => a - b);
    const { from, to } = run.path.length === 0 ? spanOf(facts.trial, batches) : spanOfBatches(batches);
    return readings.flatMap(({ time, path }): Contradiction[] => {
      const before = from === null ? 0 : days(from - time.seconds);
      const after = to === null ? 0 : days(time.seconds - to);
      const apart = from === null && to === null ? gapAround(time.seconds, inOrder) : Math.max(before, after);
      const most = from === null && to === null ? GAP : NEAR;
      if (apart <= most) return [];
      const where = from === null && to === null ? 'others' : before > after ? 'before' : 'after';
      const fault = { code: 'reading-not-of-run', written: time.text, days: apart, where } as const;
      return [{ fault, path: [...path, 'at'], readings: [path] }];
    });
  });

function spanOfBatches(times: readonly Time[]): { from: number | null; to: number | null } {
  const seconds = times.map((time) => time.seconds);
  return seconds.length === 0
    ? { from: null, to: null }
    : { from: Math.min(...seconds), to: Math.max(...seconds) };
}

/**
 * Days to the nearest other reading, where two others or more are much nearer to each other; else none. Only
 * the first and the last of the readings `inOrder` (seconds, one of them `time`) can be so far from the others.
 */
function gapAround(time: number, inOrder: readonly number[]): number {
  const [first, second, ...rest] = inOrder;
  const [last, last2] = [inOrder.at(-1), inOrder.at(-2)];
  if (first === undefined || second === undefined || last === undefined || last2 === undefined) return 0;
  if (rest.length === 0) return 0;
  const [gap, spread] =
    time === first ? [second - first, last - second] : time === last ? [last - last2, last2 - first] : [0, 0];
  return gap > 3 * spread ? days(gap) : 0;
}
