import type { Cartridge, Run } from '../trial/trial.ts';
import { grouped } from '../trial/grouped.ts';
import { Decimal } from '../uncertainty/decimal.ts';

/** Where a cartridge was, by the meter: two that were in one slot of one machine at once cannot both have been. */
export interface Fitted {
  readonly file: string;
  /** Serial of the machine, else its label; null where the trial names none. */
  readonly machine: string | null;
  readonly slot: string | null;
  /** Meter readings it was in between, counted on where the counter rolled over; null where they tell nothing. */
  readonly span: readonly [from: string, to: string] | null;
}

/**
 * The meter readings that a cartridge was in between, as text; null while one is not known, and where the run began at
 * zero: pages may be counted from the start of each trial.
 */
export function spanOf({ from, to }: Cartridge, { meter }: Run): Fitted['span'] {
  const [start, end] = [from.measured?.value, to.measured?.value];
  return start && end && !meter.start.measured?.value.isZero() ? [start.toFixed(), end.toFixed()] : null;
}

/** Cartridges that were in one slot of one machine at once, if their meter readings are right. */
export interface Overlap<T> {
  readonly first: T;
  readonly second: T;
  /** Further ones that were in with one before them. */
  readonly more: number;
}

/** The first two such cartridges of different trials; null where there are none. A trial keeps its own apart. */
export function overlapIn<T extends Fitted>(cartridges: readonly T[]): Overlap<T> | null {
  const fitted = cartridges.flatMap((one) =>
    one.machine === null || one.span === null
      ? []
      : [{ from: new Decimal(one.span[0]), to: new Decimal(one.span[1]), one }],
  );
  const places = grouped(fitted, ({ one: { machine, slot } }) => JSON.stringify([machine, slot]));
  const pairs: [T, T][] = [];
  for (const there of places.values()) {
    let latest: (typeof there)[number] | null = null;
    for (const next of there.toSorted((a, b) => a.from.cmp(b.from))) {
      if (latest !== null && latest.one.file !== next.one.file && next.from.lt(latest.to))
        pairs.push([latest.one, next.one]);
      if (latest === null || next.to.gt(latest.to)) latest = next;
    }
  }
  const [pair, ...others] = pairs;
  return pair === undefined ? null : { first: pair[0], second: pair[1], more: others.length };
}
