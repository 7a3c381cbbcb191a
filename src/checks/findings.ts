import { type Derived, isDerived } from '../figures/figure.ts';
import type { Judged } from '../judge/judge.ts';
import type { Problem } from '../problems/problem.ts';
import type { Trial } from '../trial/trial.ts';
import { dotted, type Path } from '../uncertainty/path.ts';
import { checkFacts } from './all.ts';
import { type Result } from '../judge/assess.ts';
import { byPlace, find, type Finding } from '../text/finding.ts';
import { nearLimits } from './near-limits.ts';

/**
 * Everything there is to say of a trial, in file order: what was found while it was read, what its readings
 * contradict each other in, what no limit speaks of, and what a good supervisor would say.
 */
export function findingsOf(result: Result): readonly Finding[] {
  if (result.verdict === 'invalid') return result.findings;
  const { source, read, doubts, silences, judged, agreed, ground, trial, derived } = result;
  const problems: Problem[] = [
    ...doubts.map(({ problem }) => problem),
    ...silences,
    ...nearLimits(judged, agreed),
    ...checkFacts(result),
    ...(ground === 'no-fails-limit' ? [{ code: ground, path: [] } as const] : []),
    ...stillToRead(trial, judged, derived),
  ];
  return [...read, ...problems.map((problem) => find(problem, source))].toSorted(byPlace);
}

/**
 * Readings still to be taken: every key that is there and empty, the meter's end, and what leaves a
 * limit open.
 */
function stillToRead(trial: Trial, judged: readonly Judged[], derived: readonly Derived[]): Problem[] {
  const paths = new Map<string, Path>();
  const add = (path: Path): void => void paths.set(dotted(path), path);
  for (const path of trial.pending) add(path);
  const open = judged.flatMap(({ reason }) => reason ?? []);
  const pages = derived
    .filter(({ figure }) => figure.name === 'pages')
    .flatMap(({ result }) => (isDerived(result) ? [] : result));
  for (const reason of [...open, ...pages]) {
    if (reason.code === 'reading-missing' || reason.code === 'no-readings') add(reason.path);
  }
  return Array.from(paths, ([reading, path]) => ({ code: 'to-be-read', reading, path }));
}
