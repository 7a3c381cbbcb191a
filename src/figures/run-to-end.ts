import type { Cartridge, Reading, Run } from '../trial/trial.ts';

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

/** So few pages may be printed to look at a machine that has stopped; common practice, no source. */
export const FEW_PAGES = 100;

/**
 * Where nothing more came from a cartridge: it stopped the machine, or was taken out. Null where the file says neither;
 * a cartridge whose print fades prints on.
 */
export const leftAt = ({ exhaustedBy, to, removedAt }: Cartridge): Reading | null =>
  exhaustedBy === 'stop' ? to : removedAt;

/** The cartridge that is listed next in the slot of another; null where none is. */
export const afterIn = (cartridge: Cartridge, { cartridges }: Run): Cartridge | null =>
  cartridges.slice(cartridges.indexOf(cartridge) + 1).find(({ slot }) => slot === cartridge.slot) ?? null;
