import type { Judged } from '../judge/judge.ts';
import { SEVERITY } from '../trial/catalogue.ts';

/** Steps from no finding to a critical one. */
const STEPS = 3;

/**
 * How far a figure is inside its limit, as a share of the limit: below zero where it is missed. Of a severity as a
 * share of all steps; of a limit of zero the margin itself. What has no value comes last.
 */
export function howFar({ margin, limit: { min, max }, derived: { unit } }: Judged): number {
  if (margin === null) return Infinity;
  if (unit === SEVERITY) return margin.toNumber() / STEPS;
  const below = min !== null && max !== null ? max.minus(min) : (max ?? min);
  return below === null || below.isZero() ? margin.toNumber() : margin.div(below.abs()).toNumber();
}

/** Readings that are alike: the highest speaks for an upper limit, the lowest for a lower one. */
const speaks = ({ derived: { stat }, limit: { min, max }, margin }: Judged): number => {
  const upper = max !== null && (min === null || (margin?.isNegative() ?? false));
  return stat === (upper ? 'greatest' : 'least') ? 0 : 1;
};

/** The furthest beyond its limit first. */
export const byHowFar = (a: Judged, b: Judged): number => howFar(a) - howFar(b) || speaks(a) - speaks(b);
