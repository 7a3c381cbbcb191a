import { deriveAll } from '../figures/derive.ts';
import type { Figure } from '../figures/figure.ts';
import { type Doubt, doubtsOf } from '../judge/doubt/all.ts';
import type { Facts } from '../judge/facts.ts';
import { type Silence, silencesOf } from '../judge/silence.ts';
import { severityOf } from '../trial/codes.ts';
import type { Problem } from '../trial/problem.ts';
import type { Place, Source } from '../trial/source.ts';
import type { Trial } from '../trial/trial.ts';
import { judge, type Judged } from '../limits/judge.ts';
import { type LimitLayer, merge } from '../limits/limits.ts';
import { type Ground, type Verdict, verdictOf } from '../limits/verdict.ts';

/** A problem with the file and line it was found in. */
export interface Finding {
  readonly problem: Problem;
  readonly file: string;
  /** Null where it is not of any one place. */
  readonly place: (Place & { readonly text: string }) | null;
}

/** A trial with everything its verdict follows from. What else is to be said of it is in `findings.ts`. */
export interface Assessed extends Facts {
  readonly file: string;
  readonly source: Source;
  readonly verdict: Verdict;
  readonly ground: Ground;
  /** Readings that cannot all be true. */
  readonly doubts: readonly Doubt[];
  /** What keeps it from passing though no limit speaks of it. */
  readonly silences: readonly Silence[];
  readonly judged: readonly Judged[];
  /** What was found while the trial and its limits were read. */
  readonly read: readonly Finding[];
}

/** A file that is no trial, and why. */
export interface Invalid {
  readonly file: string;
  readonly verdict: 'invalid';
  readonly findings: readonly Finding[];
}

export type Result = Assessed | Invalid;

/** A problem of a source with its place in it. */
export function find(problem: Problem, source: Source): Finding {
  const nowhere = problem.path.length === 0 && problem.offset === undefined && !WHOLE_FILE.has(problem.code);
  if (nowhere) return { problem, file: source.file, place: null };
  const place = source.place(problem);
  return { problem, file: source.file, place: { ...place, text: source.line(place.line) } };
}

/** Problems of a whole file are shown at its first line. */
const WHOLE_FILE: ReadonlySet<Problem['code']> = new Set([
  'empty-file',
  'wrong-shape',
  'missing-key',
  'nested-too-deep',
  'too-long',
  'too-many-entries',
]);

/**
 * A trial judged: figures derived at the agreed reference coverage, held against the limits, and the
 * verdict. `said` are findings already made while the trial and its limits were read.
 */
export function assess(
  trial: Trial,
  source: Source,
  layers: readonly LimitLayer[],
  figures: readonly Figure[],
  said: readonly Finding[],
): Result {
  const agreed = merge(layers);
  const settings = { referenceCoverage: agreed.referenceCoverage };
  const derived = deriveAll(figures, trial.run, settings);
  const reference = trial.reference ? deriveAll(figures, trial.reference, settings) : [];
  const facts = { trial, derived, reference, agreed };
  const doubts = doubtsOf(facts);
  const { judged, problems } = judge(derived, agreed, doubts);
  const read = [...said, ...problems.map((problem) => find(problem, source))];
  const { file } = source;
  if (read.some(({ problem }) => severityOf(problem) === 'error')) {
    return { file, verdict: 'invalid', findings: read.toSorted(byPlace) };
  }
  const silences = silencesOf(facts, judged);
  return { ...facts, file, source, read, doubts, silences, judged, ...verdictOf(judged, silences) };
}

/** In file order; what has no place of its own comes last. */
export function byPlace(a: Finding, b: Finding): number {
  const line = (finding: Finding): number => finding.place?.line ?? Infinity;
  const column = (finding: Finding): number => finding.place?.column ?? Infinity;
  if (line(a) === line(b)) return column(a) === column(b) ? 0 : column(a) - column(b);
  return line(a) - line(b);
}
