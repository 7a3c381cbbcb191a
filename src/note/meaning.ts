import { findingsOf } from '../checks/findings.ts';
import { shortNumber, withU } from '../checks/short-number.ts';
import { type Derived, figureKey } from '../figures/figure.ts';
import { alikeInAll } from '../figures/stretches.ts';
import type { Assessed, Result } from '../judge/assess.ts';
import { printedUnder, stretchesOf, type Stretch, weighingsOf } from '../judge/doubt/weighings.ts';
import type { Judged } from '../judge/judge.ts';
import { batchOf } from '../plan/checkpoints.ts';
import { progressOf } from '../plan/progress.ts';
import { severityOf } from '../problems/codes.ts';
import type { Finding } from '../text/finding.ts';
import type { Data } from '../text/source.ts';
import type { EventKind } from '../trial/schema/run.ts';
import type { Trial } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { dotted, type Path } from '../uncertainty/path.ts';
import { type Next, nextOf } from './next.ts';

/** A waste rate, g per thousand pages, and U. */
type Rate = readonly [value: string, U: string];

/** What a note means, at once. */
export interface Meaning {
  /** A batch was noted that is not of the trial. */
  readonly other: boolean;
  /**
   * The waste of the stretch that ends with what was noted, and of those before it that were printed under the same
   * conditions; `left` counts the others.
   */
  readonly rate: {
    readonly now: Rate;
    readonly before: Rate | null;
    readonly stretches: number;
    readonly left: number;
  } | null;
  /** An event that was noted, and how many of its kind there are by now. */
  readonly events: { readonly kind: EventKind; readonly count: number } | null;
  /** Masses of cartridges that were noted, where another one is or was in the same slot. */
  readonly weighed: readonly { readonly name: string; readonly key: 'start_mass' | 'end_mass' }[];
  /** Figures of a cartridge whose run ended. */
  readonly cartridge: readonly Derived[];
  /** Limits that are missed since. */
  readonly missed: readonly Judged[];
  /** Limits that are open since because two people see a print differently. */
  readonly split: readonly Judged[];
  /** What speaks for a wrong digit or unit in what was noted: that comes before all that follows from it. */
  readonly suspect: readonly Finding[];
  /** Pages so far and pages planned, where a batch was noted that ends more than a batch beyond them. */
  readonly beyond: { readonly pages: string; readonly target: string } | null;
  /** What there is to say that there was not before. */
  readonly fresh: readonly Finding[];
  /** How far the run is, where that is another since. */
  readonly progress: readonly Finding[];
  readonly next: Next;
  /** The trial as it stands now. */
  readonly trial: Trial;
}

/** What a note means, by what could be said of the trial before and what can be said now; `data` is that of its file. */
export function meaningOf(before: Result, now: Assessed, data: Data, paths: readonly Path[]): Meaning {
  const known = new Set(findingsOf(before).map(nameOf));
  const findings = findingsOf(now);
  const ended = now.trial.run.meter.end.measured !== null;
  const fresh = findings.filter(
    (one) =>
      !SILENT.has(one.problem.code) &&
      (ended || one.problem.code !== 'still-in-at-end') &&
      !known.has(nameOf(one)),
  );
  const doubted = new Set(now.doubts.map(({ problem }) => nameOf({ problem })));
  const isDoubt = (one: Finding): boolean =>
    severityOf(one.problem) === 'warning' && doubted.has(nameOf(one));
  const newIn = (some: (result: Assessed) => Judged[]): Judged[] => {
    const earlier = new Set(before.verdict === 'invalid' ? [] : some(before).map(limitName));
    return some(now).filter((one) => !earlier.has(limitName(one)));
  };
  return {
    other: otherNoted(now, paths) !== undefined,
    rate: rateOf(now, paths),
    weighed: weighedIn(now, paths),
    cartridge: endedIn(now, paths),
    missed: newIn(missed),
    split: newIn(split),
    events: eventsLike(now, paths),
    suspect: fresh.filter(isDoubt),
    beyond: beyondIn(now, paths),
    fresh: fresh.filter((one) => !PROGRESS.has(one.problem.code) && !isDoubt(one)),
    progress: fresh.filter(({ problem }) => PROGRESS.has(problem.code)),
    next: nextOf(now.trial, data),
    trial: now.trial,
  };
}

const PROGRESS: ReadonlySet<string> = new Set(['run-under-way', 'run-expected-end', 'waste-so-far']);

/** What is said by what comes next, or was known when the trial was begun. */
const SILENT: ReadonlySet<string> = new Set(['to-be-read', 'no-fails-limit']);

/** What has a value that moves is told each time that it does. */
const nameOf = ({ problem }: Pick<Finding, 'problem'>): string =>
  PROGRESS.has(problem.code) || problem.code === 'limit-at-risk' || problem.code === 'limit-out-of-reach'
    ? JSON.stringify(problem)
    : `${problem.code} ${dotted(problem.path)}`;

const missed = ({ judged }: Assessed): Judged[] => judged.filter(({ outcome }) => outcome === 'missed');

const split = ({ judged }: Assessed): Judged[] =>
  judged.filter(({ reason }) => reason?.code === 'seen-differently');

/** Several limits may be on one figure. */
const limitName = ({ derived, limit: { min, max } }: Judged): string =>
  JSON.stringify([figureKey(derived), min, max]);

function beyondIn({ trial }: Assessed, paths: readonly Path[]): Meaning['beyond'] {
  const [target, now] = [trial.data.target?.pages?.value, progressOf(trial)];
  if (target === undefined || now === null) return null;
  if (!paths.some((path) => dotted(path) === dotted(now.batch.end.path))) return null;
  const pages = now.pages.value;
  if (pages.lte(target.plus(batchOf(trial)))) return null;
  return { pages: shortNumber(pages), target: target.toFixed() };
}

/** The batch that was noted, where it is not of the trial. */
const otherNoted = ({ trial: { run } }: Assessed, paths: readonly Path[]) =>
  run.batches.find(
    ({ path, other }) => other && paths.some((noted) => dotted(noted).startsWith(`${dotted(path)}.`)),
  );

/** The waste rate up to a mass that was noted, beside that of the stretches before it that are like it. */
function rateOf({ trial: { run } }: Assessed, paths: readonly Path[]): Meaning['rate'] {
  const noted = new Set(paths.map(dotted));
  for (const weighings of weighingsOf(run)) {
    const stretches = weighings === null ? [] : stretchesOf(weighings);
    const index = stretches.findIndex(({ after }) => noted.has(dotted(after.mass.path)));
    const now = stretches[index];
    if (now === undefined) continue;
    const under = printedUnder(run, now);
    if (under?.other) return null;
    const all = stretches.slice(0, index);
    const earlier = all.filter((one) => {
      const then = printedUnder(run, one);
      return under !== null && then !== null && alikeInAll(then, under);
    });
    const rate = (some: readonly Stretch[]): Rate => {
      const waste = some.map((one) => one.waste).reduce((sum, one) => sum.plus(one));
      const clicks = some.map((one) => one.clicks).reduce((sum, one) => sum.plus(one));
      return withU(waste.times(run.meter.clicksPerPage.times(1000)).over(Measured.exact(clicks), 'pages'));
    };
    return {
      now: rate([now]),
      before: earlier.length === 0 ? null : rate(earlier),
      stretches: earlier.length,
      left: all.length - earlier.length,
    };
  }
  return null;
}

function eventsLike({ trial: { data, run } }: Assessed, paths: readonly Path[]): Meaning['events'] {
  const [, index] = paths.find(([section]) => section === 'events') ?? [];
  const kind = typeof index === 'number' ? data.events?.[index]?.kind : undefined;
  if (kind === undefined) return null;
  return { kind, count: (run.events ?? []).filter((event) => event.kind === kind).length };
}

function weighedIn({ trial: { run } }: Assessed, paths: readonly Path[]): Meaning['weighed'] {
  const noted = new Set(paths.map(dotted));
  return run.cartridges.flatMap(({ path, name, slot }) => {
    if (name === null || run.cartridges.filter((one) => one.slot === slot).length < 2) return [];
    const keys = (['start_mass', 'end_mass'] as const).filter((key) => noted.has(dotted([...path, key])));
    return keys.map((key) => ({ name, key }));
  });
}

/** What is shown of a cartridge that was exhausted. */
const SHOWN: ReadonlySet<string> = new Set(['yield', 'yield_at_reference', 'yield_to_rating']);

function endedIn({ trial: { run }, derived }: Assessed, paths: readonly Path[]): Derived[] {
  const ended = run.cartridges.find(({ path }) =>
    paths.some((noted) => dotted(noted) === `${dotted(path)}.exhausted_at`),
  );
  if (ended === undefined) return [];
  return derived.filter(
    ({ figure, of, stat }) => SHOWN.has(figure.name) && of === ended.name && stat === null,
  );
}
