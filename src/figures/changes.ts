import type { Run, RunEvent } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';

/**
 * Changes of a kind while pages were printed. One at the run's first or last reading parts no pages: it is the
 * fitting of what is tried, or what came after it.
 */
function changesWithin({ events, meter }: Run, kind: RunEvent['kind']): readonly RunEvent[] {
  const [start, end] = [meter.start.measured?.value, meter.end.measured?.value];
  const within = (at: Decimal): boolean => !start?.gte(at) && !end?.lte(at);
  return (events ?? []).filter((event) => event.kind === kind && (event.at === null || within(event.at)));
}

/** The first change of the waste container that no listed container answers to; null where all are listed. */
export function unlistedContainer(run: Run): RunEvent | null {
  const changes = changesWithin(run, 'container_change');
  return changes[Math.max(0, run.containers.length - 1)] ?? null;
}

/**
 * The first change of a cartridge in a slot that no listed cartridge answers to; null where all are listed. A
 * change that names no slot is taken for one of the cartridges listed beyond the changes that do; one that is
 * left over may have been in any slot.
 */
export function unlistedCartridge(run: Run, slot: string | null): RunEvent | null {
  const changes = changesWithin(run, 'cartridge_change');
  const slots = [...new Set(run.cartridges.map((cartridge) => cartridge.slot))];
  const [only = null] = slots;
  const slotOf = (event: RunEvent): string | null => event.slot ?? (slots.length === 1 ? only : null);
  const inSlot = (where: string | null): readonly RunEvent[] =>
    changes.filter((event) => (slots.length === 1 || event.slot !== null) && slotOf(event) === where);
  const spare = (where: string | null): number =>
    Math.max(0, run.cartridges.filter((one) => one.slot === where).length - 1);
  const own = inSlot(slot)[spare(slot)];
  if (own !== undefined || slots.length === 1) return own ?? null;
  const left = slots.reduce((sum, one) => sum + Math.max(0, spare(one) - inSlot(one).length), 0);
  return changes.filter((event) => event.slot === null)[left] ?? null;
}
