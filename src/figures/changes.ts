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
  let unlisted = ofRun.get(run);
  if (unlisted === undefined) ofRun.set(run, (unlisted = unlistedIn(run)));
  return unlisted.bySlot.get(slot) ?? unlisted.anywhere;
}

interface Unlisted {
  readonly bySlot: ReadonlyMap<string | null, RunEvent>;
  /** Of the changes that name no slot. */
  readonly anywhere: RunEvent | null;
}

/** Every cartridge of a run asks. */
const ofRun = new WeakMap<Run, Unlisted>();

function unlistedIn(run: Run): Unlisted {
  const changes = changesWithin(run, 'cartridge_change');
  const spare = new Map<string | null, number>();
  for (const { slot } of run.cartridges) spare.set(slot, (spare.get(slot) ?? -1) + 1);
  const single = spare.size === 1;
  const [only = null] = spare.keys();
  const bySlot = new Map<string | null, RunEvent>();
  const unnamed: RunEvent[] = [];
  for (const event of changes) {
    if (event.slot === null && !single) {
      unnamed.push(event);
      continue;
    }
    // Where the cartridges name no slot, a change that does is one of theirs.
    const slot = single ? only : event.slot;
    const left = spare.get(slot);
    if (left) spare.set(slot, left - 1);
    else if (!bySlot.has(slot)) bySlot.set(slot, event);
  }
  const left = [...spare.values()].reduce((sum, one) => sum + one, 0);
  return { bySlot, anywhere: unnamed[left] ?? null };
}
