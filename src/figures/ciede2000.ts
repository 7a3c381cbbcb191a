import { differenceCiede2000 } from 'culori/fn';
import type { Print } from '../trial/trial.ts';
import { asDecimal } from '../uncertainty/decimal.ts';
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
 * The colour difference of two prints with its sensitivities to their six readings.
 *
 * Far from zero these are the slopes of the formula, by central differences. Near zero a slope says too little: a
 * distance is never negative, so an error across the line of the two colours lengthens it too. There each reading
 * counts with the whole colour difference that its own error makes, and the share of that falls off as
 * 1 / (1 + (ΔE/U₀)²), with U₀ = 2u at a difference of zero. That value ± 2u then holds the true difference in at
 * least 95 sets of 100, from zero on and whatever the direction of the errors, is shown by simulation
 * (`npm run colours`).
 */
export function colourDifferenceOf(last: Print['lab'], before: Print['lab']): Measured {
  const readings = [...last, ...before].map(need);
  const at = readings.map(({ value }) => value.toNumber());
  const value = differenceIn(at);
  const moved = (index: number, by: number): number[] => at.map((x, i) => (i === index ? x + by : x));
  const slopes = readings.map((reading, index) => {
    const along = (differenceIn(moved(index, STEP)) - differenceIn(moved(index, -STEP))) / (2 * STEP);
    const colour = index < 3 ? 0 : 3;
    const [below, above] = [labIn(moved(index, -STEP), colour), labIn(moved(index, STEP), colour)];
    const whole = ciede2000(below, above) / (2 * STEP);
    return { reading, along, beside: Math.max(0, whole ** 2 - along ** 2), whole };
  });
  const atZero = slopes.reduce((sum, { reading, whole }) => sum + (whole * reading.u.toNumber()) ** 2, 0);
  const share = value === 0 ? 1 : 1 / (1 + value ** 2 / (4 * atZero));
  return Measured.of(
    asDecimal(value),
    slopes.map(({ reading, along, beside }): Partial => [
      reading,
      (along < 0 ? -1 : 1) * Math.sqrt(along ** 2 + share * beside),
    ]),
  );
}

/** Three of the numbers, of which there are as many. */
function labIn(x: readonly number[], from: number): Lab {
  const [L = NaN, a = NaN, b = NaN] = x.slice(from);
  return [L, a, b];
}

const differenceIn = (x: readonly number[]): number => ciede2000(labIn(x, 0), labIn(x, 3));
