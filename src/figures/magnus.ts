import type { Path } from '../uncertainty/path.ts';
import { asDecimal, Decimal } from '../uncertainty/decimal.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';

/**
 * Moist air after Magnus, over water: e = 6.112 hPa × exp(17.62 t / (243.12 °C + t)).
 * WMO-No. 8, 7th edition (2008), annex 4.B; its range of −45 to 60 °C is from memory.
 */
export const A = new Decimal('17.62');
export const B = new Decimal('243.12');
const AT_ZERO = new Decimal('6.112');

/** Exponent of the saturation vapour pressure at t °C. */
export const magnusExponent = (t: Decimal): Decimal => A.times(t).div(B.plus(t));

/** Its derivative with respect to t, per °C. */
export const magnusSlope = (t: Decimal): Decimal => A.times(B).div(B.plus(t)).div(B.plus(t));

/** Saturation vapour pressure over water at t °C, in hPa. */
export const saturationPressure = (t: Decimal): Decimal =>
  AT_ZERO.times(asDecimal(Math.exp(magnusExponent(t).toNumber())));

/** @throws NotDerived `outside-formula` where the form does not hold */
export function withinMagnus(t: Decimal, path: Path): void {
  if (t.lt(-45) || t.gt(60)) throw new NotDerived({ code: 'outside-formula', path, range: '−45 to 60 °C' });
}
