import type { Path } from '../uncertainty/path.ts';
import { asDecimal, type Decimal, ONE } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
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

const HALF = 0.008;

/**
 * The form is of pure water vapour over water; in air it is 0.3 to 0.5 % more (the enhancement factor of WMO-No. 8,
 * annex 4.B: 1.0016 + 3.15·10⁻⁶ p − 0.074/p, p in hPa; from memory), and the form's own error adds some. The value is
 * left as the form gives it; half-width 0.8 %, rectangular, the same for every reading.
 */
export const FORMULA = Measured.reading(ONE, [
  { path: ['formula'], value: ONE, unit: '1', u: asDecimal(HALF / Math.sqrt(3)), half: HALF },
]);

/** @throws NotDerived `outside-formula` where the form does not hold */
export function withinMagnus(t: Decimal, path: Path): void {
  if (t.lt(-45) || t.gt(60)) throw new NotDerived({ code: 'outside-formula', path, range: '−45 to 60 °C' });
}
