import { deriveAll } from '../figures/derive.ts';
import { type Derived, type Figure, isDerived } from '../figures/figure.ts';
import { checkFacts } from './all.ts';
import { nearLimits } from './near-limits.ts';
import { severityOf } from '../trial/codes.ts';
import type { Problem } from '../trial/problem.ts';
import type { Place, Source } from '../trial/source.ts';
import type { Trial } from '../trial/trial.ts';
import { dotted, type Path } from '../uncertainty/path.ts';
import { judge, type Judged } from '../limits/judge.ts';
import { type Agreed, type LimitLayer, merge } from '../limits/limits.ts';
import { type Ground, type Verdict, verdictOf } from '../limits/verdict.ts';

/** A problem with the file and line it was found in. */
export interface Finding {
  readonly problem: Problem;
  readonly file: string;
  /** Null where it is not of any one place. */
  readonly place: (Place & { readonly text: string }) | null;
}

/** A trial with everything that follows from it. */
export interface Assessed {
  readonly file: string;
  readonly verdict: Verdict;
  readonly ground: Ground;
  readonly trial: Trial;
  readonly agreed: Agreed;
  readonly derived: readonly Derived[];
  /** The reference run's figures; none without such a run. */
  readonly reference: readonly Derived[];
  readonly judged: readonly Judged[];
  readonly findings: readonly Finding[];
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
 * verdict. `earlier` are findings already made while the trial and its limits were read.
 */
export function assess(
  trial: Trial,
  source: Source,
  layers: readonly LimitLayer[],
  figures: readonly Figure[],
  earlier: readonly Finding[],
): Result {
  const agreed = merge(layers);
  const settings = { referenceCoverage: agreed.referenceCoverage };
  const derived = deriveAll(figures, trial.run, settings);
  const reference = trial.reference ? deriveAll(figures, trial.reference, settings) : [];
  const { judged, problems } = judge(derived, agreed);
  const { verdict, ground } = verdictOf(judged);

  const placed = (said: readonly Problem[]): Finding[] => said.map((problem) => find(problem, source));
  const faults = [...earlier, ...placed(problems)];
  const broken = faults.some(({ problem }) => severityOf(problem.code) === 'error');
  const advised = (): readonly Finding[] =>
    [
      ...faults,
      ...placed([
        ...nearLimits(judged, agreed),
        ...checkFacts({ trial, derived, reference, agreed }),
        ...(ground === 'no-reject-limit' && !broken ? [{ code: ground, path: [] } as const] : []),
        ...stillToRead(trial, judged, derived),
      ]),
    ].toSorted(byPlace);
  if (broken) {
    return { file: source.file, verdict: 'invalid', findings: advised() };
  }
  return new JudgedTrial(source.file, verdict, ground, trial, agreed, derived, reference, judged, advised);
}

/** A verdict does not rest on what is said beside it; that is worked out where it is shown. */
class JudgedTrial implements Assessed {
  private said: readonly Finding[] | undefined;

  constructor(
    readonly file: string,
    readonly verdict: Verdict,
    readonly ground: Ground,
    readonly trial: Trial,
    readonly agreed: Agreed,
    readonly derived: readonly Derived[],
    readonly reference: readonly Derived[],
    readonly judged: readonly Judged[],
    private readonly advised: () => readonly Finding[],
  ) {}

  get findings(): readonly Finding[] {
    return (this.said ??= this.advised());
  }
}

/** In file order; what has no place of its own comes last. */
export function byPlace(a: Finding, b: Finding): number {
  const line = (finding: Finding): number => finding.place?.line ?? Infinity;
  const column = (finding: Finding): number => finding.place?.column ?? Infinity;
  if (line(a) === line(b)) return column(a) === column(b) ? 0 : column(a) - column(b);
  return line(a) - line(b);
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
