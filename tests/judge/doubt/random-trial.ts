import type { Random } from '../../fuzz/random.ts';

/**
 * Random trials whose readings agree with each other, as a scale and a meter would give them: the scale is off
 * by half a gram (one standard deviation) and read to 1 g, what a batch wastes scatters by a tenth from batch to
 * batch. Everything is invented.
 */

/** What is read in a trial, and what is known of it beside the readings. */
export interface Readings {
  start: number;
  end: number;
  tare: number;
  final: number;
  /** Meter at the checkpoints, and the container's mass there; null where it was not weighed. */
  readonly batches: { end: number; mass: number | null }[];
  readonly cartridges: readonly { readonly slot: string; readonly start: number; readonly end: number }[];
  /** Of the first slot, where it was replaced: the meter, and the mass of the second one before and after. */
  readonly replaced: { readonly at: number; readonly start: number; readonly end: number } | null;
  /** Of the container, where it was changed. */
  readonly changed: { readonly at: number; readonly final: number; readonly tare: number } | null;
  readonly target: number | null;
  readonly duplex: number;
  readonly sheets: number | null;
  readonly days: readonly string[];
}

const SLOTS = ['black', 'cyan', 'magenta', 'yellow'];

/** @param checkpoints how many checkpoints with weights; any number from none to twelve where it is not said */
export function randomReadings(random: Random, checkpoints?: number): Readings {
  const weigh = (mass: number): number => Math.round(mass + 0.5 * random.normal());
  const n = checkpoints ?? random.below(13);
  const batch = random.pick([500, 1000, 2000, 2500, 3000, 4000]);
  const start = random.between(1000, 900_000);
  const rate = 4 + 36 * random.next();
  const tare = random.between(250, 1500);
  // The last stretch is another batch, shorter now and then, or the last checkpoint is the run's end.
  const lengths = Array.from({ length: n + 1 }, () => batch);
  if (random.once(4)) lengths[n] = random.between(Math.ceil(batch / 4), batch);
  const atEnd = n > 1 && checkpoints === undefined && random.once(4);
  if (atEnd) lengths.pop();
  const wastes = lengths.map((pages) => (pages / 1000) * rate * Math.max(0.2, 1 + 0.1 * random.normal()));

  let meter = start;
  let mass = tare;
  let changed: Readings['changed'] = null;
  const batches: { end: number; mass: number | null }[] = [];
  const change = n > 3 && checkpoints === undefined && random.once(5) ? random.between(1, n - 2) : -1;
  for (const [index, pages] of lengths.entries()) {
    meter += pages;
    mass += wastes[index] ?? 0;
    if (index === lengths.length - 1 && !atEnd) break;
    const weighed = checkpoints !== undefined || !random.once(6);
    if (index === change) {
      const next = random.between(250, 1500);
      changed = { at: meter, final: weigh(mass), tare: next };
      mass = next;
      batches.push({ end: meter, mass: null });
    } else
      batches.push({
        end: meter,
        mass: weighed && !(atEnd && index === lengths.length - 1) ? weigh(mass) : null,
      });
  }
  const pages = meter - start;
  const waste = wastes.reduce((sum, one) => sum + one, 0);
  const slots = SLOTS.slice(0, random.pick([1, 1, 4]));
  const used = waste / (0.05 + 0.4 * random.next()) / slots.length;
  const replaced = random.once(4) ? start + Math.round(pages * (0.3 + 0.5 * random.next())) : null;
  const share = replaced === null ? 1 : (replaced - start) / pages;
  const cartridges = slots.map((slot, index) => {
    const full = 700 + used + random.between(0, 400);
    return { slot, start: weigh(full), end: weigh(full - used * (index === 0 ? share : 1)) };
  });
  const second = 700 + used + random.between(0, 400);
  const duplex = random.pick([0, 0, 20, 50, 100]);
  const sheets = pages * (1 - duplex / 200);
  const first = Date.UTC(2026, random.below(12), 1 + random.below(28));
  return {
    start,
    end: meter,
    tare,
    final: weigh(mass),
    batches,
    cartridges,
    replaced:
      replaced === null
        ? null
        : { at: replaced, start: weigh(second), end: weigh(second - used * (1 - share)) },
    changed,
    target: random.once(2) ? pages + random.between(-200, 200) : null,
    duplex,
    sheets: random.once(3) ? Math.round(sheets * (1 + 0.015 * random.next())) : null,
    days: Array.from({ length: random.between(1, 4) }, (_, day) =>
      new Date(first + day * 86_400_000).toISOString().slice(0, 10),
    ),
  };
}

/** Readings as a trial file, with a limit on the waste. */
export function trialText(readings: Readings, max: number): string {
  const { start, end, tare, final, batches, cartridges, replaced, changed, target, duplex, sheets, days } =
    readings;
  const [first] = cartridges;
  const lines = [
    `trial: {title: Fern Street, started: ${days[0] ?? ''}, finished: ${days.at(-1) ?? ''}}`,
    `meter: {start: ${start}, end: ${end}}`,
    'coverage: 5 %',
    `duplex_share: ${duplex} %`,
    ...(sheets === null ? [] : [`paper: {sheets_used: ${sheets}}`]),
    ...(batches.length === 0 ? [] : ['batches:']),
    ...batches.map(
      (one) => `  - {end: ${one.end}${one.mass === null ? '' : `, container_mass: ${one.mass}`}}`,
    ),
    ...(changed === null
      ? [`waste_container: {tare: ${tare}, final: ${final}}`]
      : [
          'waste_container:',
          `  - {tare: ${tare}, final: ${changed.final}}`,
          `  - {tare: ${changed.tare}, final: ${final}}`,
        ]),
    'cartridges:',
    ...cartridges.map(({ slot, start: full, end: after }, index) =>
      index === 0 && replaced !== null
        ? `  - {slot: ${slot}, start_mass: ${full}, end_mass: ${after}, exhausted_at: ${replaced.at}, exhausted_by: stop}`
        : `  - {slot: ${slot}, start_mass: ${full}, end_mass: ${after}}`,
    ),
    ...(replaced === null
      ? []
      : [`  - {slot: ${first?.slot ?? ''}, start_mass: ${replaced.start}, end_mass: ${replaced.end}}`]),
    'ambient:',
    ...days.map(
      (day, index) => `  - {at: ${day}T09:00, temperature: ${(21 + index / 2).toFixed(1)}, humidity: 45}`,
    ),
    'events:',
    ...(replaced === null
      ? []
      : [`  - {at: ${replaced.at}, kind: cartridge_change, slot: ${first?.slot ?? ''}}`]),
    ...(changed === null ? [] : [`  - {at: ${changed.at}, kind: container_change}`]),
    '  - {kind: jam}',
    ...(target === null ? [] : [`target: {pages: ${target}}`]),
    `limits: {waste_per_thousand: {max: ${max.toFixed(6)}}}`,
  ];
  return `${lines.join('\n')}\n`;
}

/** g of waste per thousand pages, as the readings give it. */
export function wasteRate({ start, end, tare, final, changed }: Readings): number {
  const waste = changed === null ? final - tare : changed.final - tare + final - changed.tare;
  return (1000 * waste) / (end - start);
}
