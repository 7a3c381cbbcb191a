import { Decimal } from '../uncertainty/decimal.ts';
import { meanAndDeviation } from './sample.ts';

/** Deviations between and within groups; null where the data do not tell them. */
export interface RandomEffects {
  readonly between: Decimal | null;
  readonly within: Decimal | null;
}

/**
 * One-way random effects by the analysis of variance: σ²_within = MS_within, σ²_between = (MS_between −
 * MS_within)/n₀, 0 when negative, n₀ = (N − Σnᵢ²/N)/(a − 1) for groups of different size. Searle, Casella
 * and McCulloch, Variance Components (1992), 3.6 (from memory).
 */
export function randomEffects(groups: readonly (readonly Decimal[])[]): RandomEffects {
  const filled = groups.filter((group) => group.length > 0);
  const all = filled.flat();
  const [a, N] = [filled.length, all.length];
  if (a < 2 || N <= a) return { between: null, within: null };
  const { mean } = meanAndDeviation(all);
  let [within, between, squares] = [new Decimal(0), new Decimal(0), 0];
  for (const group of filled) {
    const own = meanAndDeviation(group).mean;
    const apart = own.minus(mean);
    between = between.plus(apart.times(apart).times(group.length));
    squares += group.length ** 2;
    for (const value of group) {
      const rest = value.minus(own);
      within = within.plus(rest.times(rest));
    }
  }
  const meanWithin = within.div(N - a);
  const meanBetween = between.div(a - 1);
  const size = new Decimal(N).minus(new Decimal(squares).div(N)).div(a - 1);
  const component = meanBetween.minus(meanWithin).div(size);
  return { between: Decimal.max(component, 0).sqrt(), within: meanWithin.sqrt() };
}
