import type { Quantity } from '../trial/quantity.ts';
import { counterEnd } from '../trial/meter.ts';

/** The first number that a counter of so many digits cannot show; null where its digits are not told. */
export const counterOf = (
  meter: { readonly digits?: Quantity | null | undefined } | null | undefined,
): number | null => (meter?.digits == null ? null : counterEnd(meter.digits).toNumber());

/** A reading that was counted on past the counter's end, as the counter showed it. */
export const asShown = (at: number, counter: number | null): number =>
  counter !== null && at >= counter ? at - counter : at;
