import type { Cartridge, Run } from '../trial/trial.ts';

/**
 * Whether a cartridge was put in only because another of its slot had reached its end or failed, and was still
 * in when the run ended. What it printed says nothing about its yield.
 */
export function stillInAtEnd(cartridge: Cartridge, run: Run): boolean {
  const { slot, exhausted, failed, to } = cartridge;
  return (
    !exhausted &&
    !failed &&
    to === run.meter.end &&
    run.cartridges.some(
      (other) => other !== cartridge && other.slot === slot && (other.exhausted || other.failed),
    )
  );
}
