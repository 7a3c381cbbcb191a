import { otherClicksSoFar } from '../../figures/pages.ts';
import type { Run } from '../../trial/trial.ts';
import { counterEnd } from '../../trial/meter.ts';
import { brief, Decimal } from '../../uncertainty/decimal.ts';
import { runsOf, valueOf } from '../facts.ts';
import { type Contradiction, type DoubtRule, taken } from './doubt.ts';

/** Pages in a batch unless the target says otherwise. */
const BATCH = new Decimal(1000);

/**
 * Lengths of the batches in clicks, the first from the run's start; null where a checkpoint was not read, and of pages
 * that are not of the trial, which are as many as they are.
 */
const lengthsOf = ({ meter, batches }: Run): readonly (Decimal | null)[] =>
  batches.map(({ end, other }, index) => {
    const from = batches[index - 1]?.end ?? meter.start;
    const [before, to] = [from.measured?.value, end.measured?.value];
    return !other && before && to ? to.minus(before) : null;
  });

/**
 * The length of a batch where the batches are alike, in clicks: the longest, if two others at least are about as
 * long; null where they are not, since then there is nothing a stretch has to fit.
 */
function usualBatch(lengths: readonly (Decimal | null)[]): Decimal | null {
  const read = lengths.filter((length) => length !== null);
  const [longest, , third] = read.toSorted((a, b) => b.cmp(a));
  return longest && third?.gte(longest.times('0.8')) ? longest : null;
}

/** The cartridges were to be run until exhausted, and one of them was, as the run ended: that set its length. */
const endedExhausted = (run: Run, within: Decimal): boolean => {
  const end = run.meter.end.measured?.value;
  return run.cartridges.some(
    ({ exhausted, to }) => exhausted && end && to.measured && end.minus(to.measured.value).lte(within),
  );
};

const inPages = (clicks: Decimal, { meter }: Run): string =>
  clicks.div(meter.clicksPerPage).toSignificantDigits(8).toFixed();

/** A stretch this many times as long as a batch does not fit the others. */
const TOO_LONG = 1.5;

/** Behind the last checkpoint lies no more than a batch that fits the others. */
export const lastBatchFits: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run, figures }): Contradiction[] => {
    const end = run.meter.end.measured?.value;
    const last = run.batches.findLast(({ end: stop }) => stop.measured !== null);
    const usual = usualBatch(lengthsOf(run));
    if (end === undefined || !last?.end.measured || usual === null) return [];
    const behind = end.minus(last.end.measured.value);
    const target = run.path.length === 0 ? facts.trial.data.target?.pages?.value : undefined;
    const pages = valueOf(figures, 'pages')?.value;
    // Checkpoints may have been left out; the run is as long as planned then.
    const asPlanned = target && pages?.minus(target).abs().lte(target.times('0.02'));
    // The last checkpoint is where the run was to end.
    const checked = pages?.minus(behind.div(run.meter.clicksPerPage));
    const done = target && checked?.minus(target).abs().lte(target.times('0.02'));
    const most = usual.times(done && !endedExhausted(run, usual) ? 0.5 : TOO_LONG);
    if (asPlanned || behind.lte(most)) return [];
    const fault = {
      code: 'pages-after-last-batch',
      pages: inPages(behind, run),
      longest: inPages(usual, run),
      at: last.end.measured.value.toFixed(),
    } as const;
    return [{ fault, path: run.meter.end.path, readings: taken(run.meter.end) }];
  });

/** The first batch fits the others. */
export const firstBatchFits: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }): Contradiction[] => {
    const [first, ...others] = lengthsOf(run);
    const usual = usualBatch(others);
    if (!first || usual === null || first.lte(usual.times(TOO_LONG))) return [];
    const [pages, longest] = [inPages(first, run), inPages(usual, run)];
    const fault = { code: 'first-batch-long', pages, longest } as const;
    return [{ fault, path: run.meter.start.path, readings: taken(run.meter.start, run.batches[0]?.end) }];
  });

/** A run is no more than a batch longer than planned, unless it went on until a cartridge was exhausted. */
export const withinTarget: DoubtRule = ({ trial: { run, data }, derived }) => {
  const target = data.target?.pages?.value;
  const pages = valueOf(derived, 'pages')?.value;
  if (target === undefined || pages === undefined) return [];
  const clicks = run.meter.clicksPerPage;
  const batch = data.target?.batch?.value ?? usualBatch(lengthsOf(run))?.div(clicks) ?? BATCH;
  const start = run.meter.start.measured?.value;
  const last = run.batches.findLast(({ end }) => end.measured !== null)?.end.measured?.value;
  const checked = start && last ? last.minus(start).minus(otherClicksSoFar(run)).div(clicks) : null;
  const over = pages.minus(target);
  // Checkpoints beyond the target show that it was passed.
  if (over.lte(batch) || checked?.gt(target.plus(batch))) return [];
  if (endedExhausted(run, batch.times(clicks))) return [];
  const fault = {
    code: 'pages-over-target',
    pages: pages.toSignificantDigits(8).toFixed(),
    target: target.toFixed(),
    batch: batch.toSignificantDigits(6).toFixed(),
  } as const;
  return [{ fault, path: run.meter.end.path, readings: taken(run.meter.end) }];
};

/** A run that takes so much of its counter to roll over is none; common practice, no source. */
const MOST_OF_COUNTER = 0.8;

/**
 * A counter rolls over in a run that began near its end. Start and end exchanged look like a run of nearly all that
 * the counter can show; a checkpoint on the way bears such a run out.
 */
export const rolledOverOnce: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }): Contradiction[] => {
    const data = run.path.length === 0 ? facts.trial.data : facts.trial.data.reference;
    const { start, end, digits } = data?.meter ?? {};
    if (!start || !end || !digits || end.value.gte(start.value)) return [];
    if (run.batches.some(({ end: stop }) => stop.measured !== null)) return [];
    const counter = counterEnd(digits);
    const clicks = counter.minus(start.value).plus(end.value);
    if (clicks.lte(counter.times(MOST_OF_COUNTER))) return [];
    const fault = {
      code: 'rolled-over-far',
      start: start.text,
      end: end.text,
      pages: brief(clicks.div(run.meter.clicksPerPage)),
      digits: digits.value.toNumber(),
    } as const;
    return [{ fault, path: run.meter.end.path, readings: taken(run.meter.start, run.meter.end) }];
  });
