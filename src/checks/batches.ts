import { ofOneKind, printedAs } from '../figures/stretches.ts';
import { binomialTail } from '../statistics/binomial.ts';
import type { Code, Problem } from '../problems/problem.ts';
import type { Batch, Reading, Run } from '../trial/trial.ts';
import { Decimal, ZERO } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import type { Check } from './check.ts';

/** A stretch of the run between two checkpoints. */
interface Stretch {
  readonly batch: Batch;
  readonly nth: number;
  readonly from: Measured;
  readonly to: Measured;
  /** g, of the container at both ends; null where it was not weighed */
  readonly waste: Measured | null;
}

/** The stretches of a run with batches, where every checkpoint is there. */
function stretchesOf(run: Run): Stretch[] {
  const [container] = run.containers;
  const single = run.containers.length === 1;
  const last = run.meter.end.measured?.value;
  let from: Reading = run.meter.start;
  let mass: Measured | null = container?.tare.measured ?? null;
  return run.batches.flatMap((batch, index): Stretch[] => {
    const before = from.measured;
    const massBefore = mass;
    const atEnd = last && batch.end.measured?.value.eq(last);
    const massHere = batch.containerMass.measured ?? (atEnd ? (container?.final.measured ?? null) : null);
    from = batch.end;
    mass = massHere;
    if (before === null || batch.end.measured === null) return [];
    const waste = single && massHere !== null && massBefore !== null ? massHere.minus(massBefore) : null;
    return [{ batch, nth: index + 1, from: before, to: batch.end.measured, waste }];
  });
}

/** So unlikely a share of the stops falls to no batch by chance. */
const UNLIKELY = 0.01;

/** Batches that saw more of the run's stops than their share of the pages explains (exact binomial). */
export const stopsSpread: Check = ({ trial: { run } }) => {
  const stops = (run.events ?? []).flatMap(({ kind, at }) => (kind === 'stop' && at !== null ? [at] : []));
  const stretches = stretchesOf(run);
  const [begin] = stretches;
  if (begin === undefined) return [];
  const [first, last] = [begin.from.value, (stretches.at(-1) ?? begin).to.value];
  const others = stretches.filter(({ batch }) => batch.other);
  const inOther = (at: Decimal): boolean =>
    others.some(({ from, to }) => at.gt(from.value) && at.lte(to.value));
  const within = stops
    .filter((at) => at.gt(first) && at.lte(last) && !inOther(at))
    .toSorted((a, b) => a.cmp(b));
  if (within.length === 0) return [];
  const all = others.reduce(
    (rest, { from, to }) => rest.minus(to.value.minus(from.value)),
    last.minus(first),
  );
  let next = 0;
  // Of the stops counted none is of another batch, so that nothing is said of one.
  return stretches.flatMap(({ batch, nth, from, to }): Problem[] => {
    while (within[next]?.lte(from.value)) next += 1;
    const before = next;
    while (within[next]?.lte(to.value)) next += 1;
    const seen = next - before;
    const share = to.value.minus(from.value).div(all).toNumber();
    if (binomialTail(seen, within.length, share) >= UNLIKELY) return [];
    return [{ code: 'batch-stops', batch: nth, stops: seen, all: within.length, path: batch.end.path }];
  });
};

/** More than this above the other batches is worth a word; common practice, no source. */
const MORE_WASTE = new Decimal('1.25');

/** Doubts of the weighings that the rates are made of. */
const SAID: ReadonlySet<Code> = new Set(['waste-rate-apart', 'interim-falls', 'interim-above-final']);

/** Batches whose waste rate is higher than that of the others by more than the scale can explain. */
export const wasteSpread: Check = ({ trial: { run }, doubts }) => {
  // What is in doubt has been said.
  if (doubts.some(({ problem }) => SAID.has(problem.code))) return [];
  // What another container holds is in none of these weighings.
  if (run.events?.some(({ kind }) => kind === 'container_change')) return [];
  const weighed = ofOneKind(
    stretchesOf(run).flatMap(({ batch, nth, from, to, waste }) => {
      const clicks = to.value.minus(from.value);
      return waste !== null && clicks.gt(0) ? [{ batch, nth, clicks, waste }] : [];
    }),
    ({ batch }) => printedAs(batch, run),
    ({ clicks }) => clicks,
  );
  if (weighed.length < 2) return [];
  const total = Measured.sum(weighed.map(({ waste }) => waste));
  const pages = weighed.reduce((sum, { clicks }) => sum.plus(clicks), ZERO);
  return weighed.flatMap(({ batch, nth, clicks, waste }): Problem[] => {
    const [own, rest] = [waste.value.div(clicks), total.value.minus(waste.value).div(pages.minus(clicks))];
    // own − rest = a·waste − b·total, of which a batch and all of them share the weighings of the batch.
    const b = 1000 / pages.minus(clicks).toNumber();
    const a = 1000 / clicks.toNumber() + b;
    const variance =
      (a * waste.u.toNumber()) ** 2 + (b * total.u.toNumber()) ** 2 - 2 * a * b * waste.covariance(total);
    const more = own.minus(rest).times(1000).toNumber();
    if (more <= 2 * Math.sqrt(Math.max(0, variance)) || own.lte(rest.times(MORE_WASTE))) return [];
    const shown = (rate: Decimal): string =>
      rate.times(1000).times(run.meter.clicksPerPage).toSignificantDigits(3).toFixed();
    return [{ code: 'batch-waste', batch: nth, rate: shown(own), others: shown(rest), path: batch.end.path }];
  });
};
