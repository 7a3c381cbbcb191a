import { type Decimal, ZERO } from '../uncertainty/decimal.ts';
import type { Measured } from '../uncertainty/measured.ts';
import type { Decision } from './limits.ts';
import { normalTail } from '../statistics/normal.ts';
import { rectangleAndNormal } from '../statistics/rectangle.ts';

/** Whether a figure keeps to its limit: it does, it does not, or the readings cannot tell. */
export type Outcome = 'met' | 'missed' | 'open';

interface Edges {
  readonly min: Decimal | null;
  readonly max: Decimal | null;
}

/** Guard band: factor × u under the guarded rule, none under the simple one. */
export const guardBand = (figure: Measured, { rule, factor }: Decision): Decimal =>
  rule === 'guarded' ? factor.times(figure.u) : ZERO;

/** One-sided bounds of a figure, each with the given probability beyond it. */
type BoundsAt = (tail: number) => { readonly lower: Decimal; readonly upper: Decimal };

/**
 * Holds a figure against a limit, edges included.
 *
 * Simple acceptance (ILAC-G8:09/2019, 4.2.1): the value itself decides. Guarded (4.2.3, its two conditional states taken as open): met
 * inside the limit moved inwards by the guard band, missed outside the limit moved outwards by it, open
 * between. A figure with exact bounds has those of probability Φ(factor) in place of value ± band, reckoned from the tail 1 − Φ(factor). What
 * is only at least x never misses a minimum nor meets a maximum; at most x is its mirror.
 */
export function decide(
  figure: Measured,
  { min, max }: Edges,
  decision: Decision,
  bounds?: BoundsAt,
): Outcome {
  const { value, bound } = figure;
  const band = guardBand(figure, decision);
  const exact = decision.rule === 'guarded' && bounds ? bounds(normalTail(decision.factor.toNumber())) : null;
  /** How the lower and the upper end of what the value may be compare with a limit. */
  const against = (limit: Decimal): readonly [low: number, high: number] => {
    if (exact) return [exact.lower.cmp(limit), exact.upper.cmp(limit)];
    if (!band.isZero()) return [value.minus(band).cmp(limit), value.plus(band).cmp(limit)];
    const own = figure.compare(limit);
    return [own, own];
  };
  const outcomes: Outcome[] = [];
  if (min !== null) {
    const [low, high] = against(min);
    const met = bound !== 'at_most' && low >= 0;
    const missed = bound !== 'at_least' && high < 0;
    outcomes.push(met ? 'met' : missed ? 'missed' : 'open');
  }
  if (max !== null) {
    const [low, high] = against(max);
    const met = bound !== 'at_least' && high <= 0;
    const missed = bound !== 'at_most' && low > 0;
    outcomes.push(met ? 'met' : missed ? 'missed' : 'open');
  }
  if (outcomes.includes('missed')) return 'missed';
  return outcomes.includes('open') ? 'open' : 'met';
}

/** How far a value is from the nearer edge of its limit, positive on the good side. */
export function marginOf(figure: Measured, { min, max }: Edges): Decimal {
  const below = min === null ? null : figure.compare(min) === 0 ? ZERO : figure.value.minus(min);
  const above = max === null ? null : figure.compare(max) === 0 ? ZERO : max.minus(figure.value);
  if (below === null) return above ?? ZERO;
  return above === null || below.lt(above) ? below : above;
}

/**
 * The probability that the true value keeps to the limit, given the measured value and its standard uncertainty
 * (JCGM 106:2012, 7): F(max − y) − F(min − y). F is normal, but for the widest rectangle among the inputs, `half`
 * of its width in the unit of the value: that part is taken as the rectangle it is, and the rest as normal.
 *
 * `u` is not zero.
 */
export function conformance(value: Decimal, u: Decimal, { min, max }: Edges, half = 0): number {
  const rest = Math.sqrt(Math.max(u.toNumber() ** 2 - half ** 2 / 3, 0));
  const upTo = (edge: Decimal): number => rectangleAndNormal(edge.minus(value).toNumber(), half, rest);
  return (max === null ? 1 : upTo(max)) - (min === null ? 0 : upTo(min));
}
