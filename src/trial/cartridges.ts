import { Measured } from '../uncertainty/measured.ts';
import type { Path } from '../uncertainty/path.ts';
import type { Instruments } from './instruments.ts';
import { unrolled } from './meter.ts';
import type { Quantity } from './quantity.ts';
import type { RunData } from './schema/trial.ts';
import type { Cartridge, Meter, Reading } from './trial.ts';

type CartridgeData = NonNullable<RunData['cartridges']>[number];

/**
 * The cartridges of a run, each with the stretch of the meter that is its own: from `installed_at`
 * (else the end of the one before it in its slot, else the run's start) to `exhausted_at`, else
 * `removed_at`, else the next one's start, else the run's end.
 *
 * Where the file lists none, one new cartridge that was not exhausted is taken for each slot of the
 * coverage map, or one without a name.
 */
export function cartridgesOf(
  data: RunData,
  path: Path,
  meter: Meter,
  coverageSlots: readonly (string | null)[],
  instruments: Instruments,
): readonly Cartridge[] {
  const listed = data.cartridges ?? [];
  if (listed.length === 0) {
    const slots = coverageSlots.length === 0 ? [null] : coverageSlots;
    return slots.map((slot) => assumed(slot, path, meter));
  }
  const latest = new Map<string | null, Cartridge>();
  const counted = new Map<string | null, number>();
  return listed.map((cartridge, index) => {
    const slot = cartridge.slot ?? null;
    const at = [...path, 'cartridges', index];
    const read = (key: string, quantity: Quantity | null | undefined): Reading | null =>
      quantity == null
        ? null
        : instruments.read('meter', 'page', [...at, key], quantity, unrolled(data.meter, quantity));
    const weigh = (key: string, quantity: Quantity | null | undefined): Reading =>
      instruments.read('scale', 'g', [...at, key], quantity);

    const nth = (counted.get(slot) ?? 0) + 1;
    counted.set(slot, nth);
    const next = listed.findIndex((other, place) => place > index && (other.slot ?? null) === slot);
    const exhaustedAt = read('exhausted_at', cartridge.exhausted_at);
    const removedAt = read('removed_at', cartridge.removed_at);
    const built: Cartridge = {
      path: at,
      slot,
      name: nameOf(slot, nth, listed.length),
      ratedYield: cartridge.rated_yield?.value ?? null,
      life: cartridge.life ?? 'toner',
      startMass: weigh('start_mass', cartridge.start_mass),
      endMass: weigh('end_mass', cartridge.end_mass),
      fillMass: weigh('fill_mass', cartridge.fill_mass),
      residualMass: weigh('residual_mass', cartridge.residual_mass),
      gauge: {
        start: instruments.read('gauge', '%', [...at, 'gauge', 'start'], cartridge.gauge?.start),
        end: instruments.read('gauge', '%', [...at, 'gauge', 'end'], cartridge.gauge?.end),
      },
      from: read('installed_at', cartridge.installed_at) ?? latest.get(slot)?.to ?? meter.start,
      to: exhaustedAt ??
        removedAt ??
        (next === -1 ? meter.end : startOf(listed[next], [...path, 'cartridges', next])) ?? {
          path: [...at, 'removed_at'],
          measured: null,
        },
      exhausted: exhaustedAt !== null,
      exhaustedBy: exhaustedAt === null ? null : (cartridge.exhausted_by ?? null),
      removedAt,
      failed: cartridge.failed_at != null || cartridge.failed_by != null,
      failedAt: read('failed_at', cartridge.failed_at),
      lot: cartridge.lot ?? null,
      serial: cartridge.serial ?? null,
      fresh: isFresh(cartridge),
      usedBefore: usedBeforeOf(cartridge, at),
      listed: true,
      price: cartridge.price ?? null,
    };
    latest.set(slot, built);
    return built;

    function startOf(follower: CartridgeData | undefined, followerAt: Path): Reading | null {
      const installed = follower?.installed_at;
      if (installed == null) return null;
      return instruments.read(
        'meter',
        'page',
        [...followerAt, 'installed_at'],
        installed,
        unrolled(data.meter, installed),
      );
    }
  });
}

/** The slot's name, numbered from its second cartridge on; the only cartridge of a run may go without. */
function nameOf(slot: string | null, nth: number, cartridges: number): string | null {
  if (slot === null) return cartridges === 1 ? null : `#${nth}`;
  return nth === 1 ? slot : `${slot}#${nth}`;
}

/** Fitted new: no pages on it, and no gauge that starts below full. */
function isFresh({ used_before, gauge }: CartridgeData): boolean {
  const pages = used_before && ('pages' in used_before ? used_before.pages : used_before);
  return !pages?.value.gt(0) && !gauge?.start?.value.lt(100);
}

function usedBeforeOf({ used_before: used }: CartridgeData, at: Path): Cartridge['usedBefore'] {
  if (!used) return null;
  const path = [...at, 'used_before'];
  if (!('pages' in used)) return { pages: Measured.exact(used.value, path), coverage: null };
  if (!used.pages) return null;
  const { pages, coverage } = used;
  return {
    pages: Measured.exact(pages.value, [...path, 'pages']),
    coverage: coverage ? Measured.exact(coverage.value, [...path, 'coverage']) : null,
  };
}

function assumed(slot: string | null, path: Path, meter: Meter): Cartridge {
  const at = [...path, 'cartridges'];
  const none = (key: string): Reading => ({ path: [...at, key], measured: null });
  return {
    path: at,
    slot,
    name: slot,
    ratedYield: null,
    life: 'toner',
    startMass: none('start_mass'),
    endMass: none('end_mass'),
    fillMass: none('fill_mass'),
    residualMass: none('residual_mass'),
    gauge: { start: none('gauge'), end: none('gauge') },
    from: meter.start,
    to: meter.end,
    exhausted: false,
    exhaustedBy: null,
    removedAt: null,
    failed: false,
    failedAt: null,
    lot: null,
    serial: null,
    fresh: true,
    usedBefore: null,
    listed: false,
    price: null,
  };
}

/** The slot of a cartridge by its name, which has a number behind it where it is not the first there. */
export const slotOf = (name: string): string => name.replace(/#\d+$/, '');
