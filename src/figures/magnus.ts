import type { Path } from '../uncertainty/path.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';

/**
 * Moist air after Magnus, over water: e = 6.112 hPa × exp(17.62 t / (243.12 °C + t)).
 * WMO-No. 8, 7th edition (2008), annex 4.B; its range of −45 to 60 °C is from memory.
 *
 * In doubles: exponentials and logarithms are known to their 15 digits only.
 */
export const A = 17.62;
export const B = 243.12;
const AT_ZERO = 6.112;

/** Exponent of the saturation vapour pressure at t °C. */
export const magnusExponent = (t: number): number => (A * t) / (B + t);

/** Its derivative with respect to t, per °C. */
export const magnusSlope = (t: number): number => (A * B) / (B + t) ** 2;

/** Saturation vapour pressure over water at t °C, in hPa. */
export const saturationPressure = (t: number): number => AT_ZERO * Math.exp(magnusExponent(t));

/** @throws NotDerived `outside-formula` where the form does not hold */
export function withinMagnus(t: Decimal, path: Path): void {
  if (t.lt(-45) || t.gt(60)) throw new NotDerived({ code: 'outside-formula', path, range: '−45 to 60 °C' });
}
