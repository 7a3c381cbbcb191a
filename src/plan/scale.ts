import type { Agreed, Limit } from '../judge/limits.ts';
import type { Trial } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { Path } from '../uncertainty/path.ts';
import { given } from './planned.ts';
import { type WasteRate, wasteRate } from './waste.ts';

/** How finely the waste container has to be weighed. */
export interface ScaleNeed {
  /** The limit on waste per thousand pages it is for, in g. */
  readonly max: Decimal;
  /** From the waste expected to the limit, in g per thousand pages. */
  readonly margin: Decimal;
  /** Coarsest resolution, in g, at which the guard band takes a tenth of the margin. */
  readonly resolution: Decimal;
  /** Resolution of the trial's own scale, in g; null where it is not given. */
  readonly own: Decimal | null;
}

/** Where the waste expected comes from. */
const EXPECTED: Readonly<Record<WasteRate['from'], Path>> = {
  target: ['target', 'waste_per_thousand'],
  run: ['batches'],
  reference: ['reference', 'waste_container'],
};

/** U = 2u, where the trial's rule has no guard band at all. */
const USUAL = 2;

/** Share of the margin the guard band may take. */
const SHARE = new Decimal('0.1');

/**
 * The coarsest resolution r of the scale with which the guard band, factor × u of waste per thousand
 * pages, takes no more than a tenth of the margin to its limit.
 *
 * Each container is weighed twice, each weighing with u² = r²/12 + e²/3, so that over k containers
 * u = (1000/pages) √(2k (r²/12 + e²/3)) (JCGM 100:2008, 4.3.7, 5.1.2, F.2.2.1), solved for r.
 *
 * @throws NotDerived
 */
export function scaleNeed(trial: Trial, agreed: Agreed, pages: Decimal, containers: number): ScaleNeed {
  const max = given(tightest(agreed.limits), 'limits', 'waste_per_thousand');
  const { rate, from } = wasteRate(trial);
  const margin = max.minus(rate);
  if (!margin.gt(0)) throw new NotDerived({ code: 'no-margin', path: EXPECTED[from] });
  const { scale } = trial.data.instruments ?? {};
  const error = scale?.max_error?.value ?? new Decimal(0);
  const { factor } = agreed.decision;
  const u = margin
    .times(SHARE)
    .div(factor.isZero() ? USUAL : factor)
    .times(pages)
    .div(1000);
  const left = u
    .pow(2)
    .div(2 * containers)
    .minus(error.pow(2).div(3));
  if (!left.gt(0)) {
    throw new NotDerived({ code: 'error-above-margin', path: ['instruments', 'scale', 'max_error'] });
  }
  return { max, margin, resolution: left.times(12).sqrt(), own: scale?.resolution?.value ?? null };
}

const tightest = (limits: readonly Limit[]): Decimal | null =>
  limits
    .flatMap(({ figure, max }) => (figure.name === 'waste_per_thousand' && max !== null ? [max] : []))
    .reduce<Decimal | null>((least, one) => (least === null || one.lt(least) ? one : least), null);
