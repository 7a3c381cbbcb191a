import { differenceCiede2000 } from 'culori/fn';
import type { Print } from '../trial/trial.ts';
import { asDecimal, ZERO } from '../uncertainty/decimal.ts';
import { Measured, type Partial } from '../uncertainty/measured.ts';
import { need } from './figure.ts';

type Lab = readonly [L: number, a: number, b: number];

const difference = differenceCiede2000();

/** Colour difference ΔE00 of two CIELAB colours: CIEDE2000, ISO/CIE 11664-6. */
export const ciede2000 = (one: Lab, other: Lab): number => difference(colour(one), colour(other));

const colour = ([l, a, b]: Lab) => ({ mode: 'lab65' as const, l, a, b });

/** Step of the numerical derivative, in units of L, a and b. */
const STEP = 1e-4;

/**
 * The colour difference of two prints with its sensitivities, by central differences. At a difference of
 * zero the formula has a cusp and no derivative: the uncertainty is not known there.
 */
export function colourDifferenceOf(last: Print['lab'], before: Print['lab']): Measured {
  const readings = [...last, ...before].map(need);
  const at = readings.map(({ value }) => value.toNumber());
  const evaluate = (x: readonly number[]): number =>
    ciede2000([x[0] ?? 0, x[1] ?? 0, x[2] ?? 0], [x[3] ?? 0, x[4] ?? 0, x[5] ?? 0]);
  const value = evaluate(at);
  if (value === 0)
    return Measured.of(
      ZERO,
      readings.map((reading): Partial => [reading, 0]),
    ).withUnknownU();
  const moved = (index: number, by: number): number => evaluate(at.map((x, i) => (i === index ? x + by : x)));
  const partials = readings.map((reading, index): Partial => {
    const slope = (moved(index, STEP) - moved(index, -STEP)) / (2 * STEP);
    return [reading, slope];
  });
  return Measured.of(asDecimal(value), partials);
}
