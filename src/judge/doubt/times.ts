import type { Time } from '../../trial/time.ts';
import type { Run } from '../../trial/trial.ts';
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

/** When a run began and ended (s), as far as the file says; null where it says nothing of it. */
function spanOf({ started, finished, batches }: Run): { from: number; to: number | null } | null {
  const ofBatches = batches.flatMap((batch) => [batch.started, batch.finished]);
  const secondsOf = (times: readonly (Time | null)[]): number[] =>
    times.flatMap((time) => time?.seconds ?? []);
  const said = secondsOf([started, finished, ...ofBatches]);
  if (said.length === 0) return null;
  const lastSaid = secondsOf(ofBatches).length > 0 ? Math.max(...said) : null;
  return { from: started?.seconds ?? Math.min(...said), to: finished?.seconds ?? lastSaid };
}

const days = (seconds: number): number => Math.floor(seconds / DAY);

/** A reading of the air that was taken long before the run or long after it is not of this run, or misdated. */
export const airOfTheRun: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) => {
    const readings = run.ambient.flatMap(({ at, path }): Dated[] => (at ? [{ time: at, path }] : []));
    const inOrder = readings.map(({ time }) => time.seconds).toSorted((a, b) => a - b);
    const span = spanOf(run);
    return readings.flatMap(({ time: { seconds, text }, path }): Contradiction[] => {
      const far = span === null ? alone(seconds, inOrder) : outside(seconds, span);
      return far.map(([days, where]) => ({
        fault: { code: 'reading-not-of-run', written: text, days, where },
        path: [...path, 'at'],
        readings: [path],
      }));
    });
  });

/** Whole days that a reading is too far away, and from what; none of a reading that is near. */
type Far = readonly (readonly [days: number, where: 'before' | 'after' | 'others'])[];

const outside = (time: number, { from, to }: { from: number; to: number | null }): Far => {
  const before = [days(from - time), 'before'] as const;
  const apart = to === null ? [before] : [before, [days(time - to), 'after'] as const];
  return apart.filter(([far]) => far > NEAR);
};

/**
 * From the nearest other reading, where two others or more are much nearer to each other. Only the first and the last
 * of the readings `inOrder` (seconds, one of them `time`) can be so far from the others.
 */
function alone(time: number, inOrder: readonly number[]): Far {
  const [first = time, second = time] = inOrder;
  const [last = time, last2 = time] = [inOrder.at(-1), inOrder.at(-2)];
  const [gap, spread] = time === first ? [second - first, last - second] : [last - last2, last2 - first];
  const atEnd = time === first || time === last;
  const far = inOrder.length > 2 && atEnd && gap > 3 * spread && days(gap) > GAP;
  return far ? [[days(gap), 'others']] : [];
}
