import type { Path } from '../../uncertainty/path.ts';
import type { Problem } from '../../problems/problem.ts';
import type { RunData } from '../schema/trial.ts';
import { isAfter, type Time } from '../time.ts';
import type { RunRule, TrialRule } from './rule.ts';

type Dated = readonly [time: Time | null | undefined, path: Path];

/** Something that ends does so after it began, and each batch after the one before it. */
const inOrder = (times: readonly Dated[]): Problem[] => {
  const problems: Problem[] = [];
  let before: Time | null = null;
  for (const [time, path] of times) {
    if (!time) continue;
    if (before !== null && comparable(before, time) && isAfter(before, time)) {
      problems.push({ code: 'ends-before-start', start: before.text, end: time.text, path });
    } else before = time;
  }
  return problems;
};

/** Civil times and times with an offset cannot be told apart in order; that is a problem of its own. */
const comparable = (a: Time, b: Time): boolean => a.kind === b.kind || a.kind === 'date' || b.kind === 'date';

/** Whether the first of two times is after the second, as far as both are given and can be told apart. */
const isLater = (first: Dated | undefined, second: Dated | undefined): boolean =>
  first?.[0] != null &&
  second?.[0] != null &&
  comparable(first[0], second[0]) &&
  isAfter(first[0], second[0]);

const batchTimes = (run: RunData, path: Path): Dated[] =>
  (run.batches ?? []).flatMap(({ started, finished }, index): Dated[] => [
    [started, [...path, 'batches', index, 'started']],
    [finished, [...path, 'batches', index, 'finished']],
  ]);

const ambientTimes = (run: RunData, path: Path): Dated[] =>
  (run.ambient ?? []).map(({ at }, index): Dated => [at, [...path, 'ambient', index, 'at']]);

/** Batches follow each other in time; readings of the air that do not are sorted, and that is said. */
export const runTimeRules: RunRule = (run, path, trial) => {
  const head = typeof trial.trial === 'string' ? null : trial.trial;
  const within: Dated[] =
    path.length === 0
      ? [
          [head?.started, ['trial', 'started']],
          ...batchTimes(run, path),
          [head?.finished, ['trial', 'finished']],
        ]
      : batchTimes(run, path);
  const problems = inOrder(within);
  const readings = ambientTimes(run, path);
  if (readings.every(([at]) => at != null)) {
    const late = readings.findIndex((reading, index) => isLater(readings[index - 1], reading));
    // One that is dated too late makes the next one look too early: it is the one to look at.
    const odd =
      isLater(readings[late - 1], readings[late + 1]) && !isLater(readings[late - 2], readings[late]);
    const which = readings[odd ? late - 1 : late];
    if (which) problems.push({ code: 'readings-sorted', path: which[1] });
  }
  return problems;
};

/** A file uses civil times or times with an offset, not both. Dates alone go with either. */
export const mixedTimesRule: TrialRule = (trial) => {
  const head = typeof trial.trial === 'string' ? null : trial.trial;
  const reference = trial.reference;
  const times: Dated[] = [
    [head?.started, ['trial', 'started']],
    [head?.finished, ['trial', 'finished']],
    ...batchTimes(trial, []),
    ...ambientTimes(trial, []),
    ...(reference
      ? [...batchTimes(reference, ['reference']), ...ambientTimes(reference, ['reference'])]
      : []),
  ];
  const clocked = times.filter(([time]) => time != null && time.kind !== 'date');
  const [first] = clocked;
  const other = clocked.find(([time]) => time?.kind !== first?.[0]?.kind);
  if (!first?.[0] || !other?.[0]) return [];
  return [{ code: 'times-mixed', written: other[0].text, first: first[0].text, path: other[1] }];
};
