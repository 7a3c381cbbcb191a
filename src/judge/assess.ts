import { deriveAll } from '../figures/derive.ts';
import type { Figure } from '../figures/figure.ts';
import { type Doubt, doubtsOf } from './doubt/all.ts';
import type { Facts } from './facts.ts';
import { type Silence, silencesOf } from './silence.ts';
import { severityOf } from '../problems/codes.ts';
import { byPlace, find, type Finding } from '../text/finding.ts';
import type { Source } from '../text/source.ts';
import type { Trial } from '../trial/trial.ts';
import { withHouseUsage } from './house-usage.ts';
import { judge, type Judged } from './judge.ts';
import { type LimitLayer, merge } from './limits.ts';
import { type Ground, type Verdict, verdictOf } from './verdict.ts';

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

/**
 * A trial judged: figures derived at the agreed reference coverage, held against the limits, and the
 * verdict. `said` are findings already made while the trial and its limits were read.
 */
export function assess(
  own: Trial,
  source: Source,
  layers: readonly LimitLayer[],
  figures: readonly Figure[],
  said: readonly Finding[],
): Result {
  const agreed = merge(layers);
  const trial = withHouseUsage(own, agreed.nonImageUsage);
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
