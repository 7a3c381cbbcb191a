import type { Decimal } from './decimal.ts';

/** An exact ratio of whole numbers: what decimals come to under + − × ÷, however often. The divisor is positive. */
export interface Ratio {
  readonly over: bigint;
  readonly under: bigint;
}

const TEN = 10n;

export function ratioOf(value: Decimal): Ratio {
  const places = Math.max(0, value.decimalPlaces());
  return { over: BigInt(value.toFixed(places).replace('.', '')), under: TEN ** BigInt(places) };
}

export function sumOf(a: Ratio, b: Ratio): Ratio {
  // Decimals are mostly read to the same places, or one to more than the other: the divisor stays small then.
  if (a.under % b.under === 0n) return { over: a.over + b.over * (a.under / b.under), under: a.under };
  if (b.under % a.under === 0n) return sumOf(b, a);
  return { over: a.over * b.under + b.over * a.under, under: a.under * b.under };
}

export const negative = ({ over, under }: Ratio): Ratio => ({ over: -over, under });

export const productOf = (a: Ratio, b: Ratio): Ratio => ({
  over: a.over * b.over,
  under: a.under * b.under,
});

/** `divisor` is not zero. */
export const quotientOf = (a: Ratio, divisor: Ratio): Ratio =>
  divisor.over < 0n
    ? { over: -a.over * divisor.under, under: a.under * -divisor.over }
    : { over: a.over * divisor.under, under: a.under * divisor.over };

/** Below zero where `a` is the smaller, above where it is the greater, else zero. */
export function compareRatios(a: Ratio, b: Ratio): number {
  const difference = a.over * b.under - b.over * a.under;
  return difference === 0n ? 0 : difference < 0n ? -1 : 1;
}
