import type { Assessed } from '../judge/assess.ts';
import { type Derived, isDerived } from '../figures/figure.ts';
import { lotOf, supplierOf } from '../trial/lot.ts';
import { machineOf } from '../trial/machine.ts';
import { typed } from '../trial/serial.ts';
import type { Price } from '../trial/quantity.ts';
import type { Cartridge } from '../trial/trial.ts';
import { timeOf } from './trend.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import { stillInAtEnd } from '../figures/run-to-end.ts';
import { doubted } from '../judge/doubt/all.ts';
import { spanOf } from './overlap.ts';
import type { OpenReason } from '../judge/judge.ts';

/** One cartridge of one trial, as far as pooling needs it: numbers only, so that thousands are no burden. */
export interface PooledCartridge {
  readonly file: string;
  /** Serial of the machine, else its label; null where the trial names none. */
  readonly machine: string | null;
  readonly machineLabel: string | null;
  readonly machineSerial: string | null;
  readonly slot: string | null;
  readonly lot: string | null;
  readonly supplier: string | null;
  readonly serial: string | null;
  /** Day of its trial; null where the file does not tell it. */
  readonly day: string | null;
  readonly price: Pick<Price, 'amount' | 'currency'> | null;
  /** Waste of its trial in g per thousand pages; null where it is not known, or rests on readings in doubt. */
  readonly waste: Decimal | null;
  /** Yield at reference coverage, in pages; of a failed cartridge it says nothing. */
  readonly pages: Decimal;
  /** It ran until exhausted; else `pages` is only a lower bound. */
  readonly exhausted: boolean;
  readonly failed: boolean;
  /** Its yield rests on readings that are in doubt: it is not pooled, and no claim is decided without it. */
  readonly doubted: boolean;
  /** A limit that voids its trial was missed: the trial proves nothing. */
  readonly voided: boolean;
  /** Meter readings it was in between; null where they tell nothing. */
  readonly span: readonly [from: string, to: string] | null;
  /** Standard uncertainty from the coverage alone, which trials printed alike have in common. */
  readonly coverageU: number;
}

/** The same with its numbers as text, as one thread hands it to another. */
export interface CarriedCartridge extends Omit<PooledCartridge, 'pages' | 'price' | 'waste'> {
  readonly pages: string;
  readonly price: { readonly amount: string; readonly currency: string } | null;
  readonly waste: string | null;
}

export const carried = (one: PooledCartridge): CarriedCartridge => ({
  ...one,
  pages: one.pages.toString(),
  price: one.price && { amount: one.price.amount.toString(), currency: one.price.currency },
  waste: one.waste?.toString() ?? null,
});

export const broughtBack = (one: CarriedCartridge): PooledCartridge => ({
  ...one,
  pages: new Decimal(one.pages),
  price: one.price && { amount: new Decimal(one.price.amount), currency: one.price.currency },
  waste: one.waste === null ? null : new Decimal(one.waste),
});

/** A cartridge that could not be pooled, and why. */
export interface LeftOut {
  readonly file: string;
  readonly name: string | null;
  readonly reason: OpenReason;
}

/** The figure that is pooled. */
const YIELD = 'yield_at_reference';

/** Uncertainty of a yield from the coverage alone. */
function coverageUOf(pages: Measured): number {
  let variance = 0;
  for (const [input, part] of pages.contributions) if (input.path.includes('coverage')) variance += part;
  return Math.sqrt(variance);
}

function wasteOf({ derived, doubts }: Assessed): Decimal | null {
  const found = derived.find(({ figure }) => figure.name === 'waste_per_thousand')?.result;
  if (found === undefined || !isDerived(found) || found.bound !== 'exact') return null;
  return doubted(found, doubts) === null ? found.value : null;
}

/** The cartridges of a trial, each with its yield at reference coverage or why there is none. */
const yieldsIn = ({ trial, derived }: Assessed): (readonly [Cartridge, Derived['result']])[] =>
  trial.run.cartridges.flatMap((cartridge) =>
    derived
      .filter(({ figure, of, stat }) => figure.name === YIELD && of === cartridge.name && stat === null)
      .map(({ result }) => [cartridge, result] as const),
  );

/** The cartridges of a judged trial. */
export function cartridgesOf(result: Assessed): { pooled: PooledCartridge[]; leftOut: LeftOut[] } {
  const pooled: PooledCartridge[] = [];
  const leftOut: LeftOut[] = [];
  const { trial, file, doubts, ground } = result;
  const day = timeOf(result)?.day ?? null;
  const waste = wasteOf(result);
  for (const [cartridge, found] of yieldsIn(result)) {
    const { slot, name, serial, price, failed } = cartridge;
    // A cartridge that failed counts as one, whether or not a yield follows from its readings.
    if (!isDerived(found) && !failed) {
      leftOut.push({ file, name, reason: found });
      continue;
    }
    if (stillInAtEnd(cartridge, trial.run)) {
      leftOut.push({ file, name, reason: { code: 'still-in-at-end' } });
      continue;
    }
    const doubt = isDerived(found) && !failed ? doubted(found, doubts) : null;
    if (doubt !== null) leftOut.push({ file, name, reason: doubt });
    const yielded = isDerived(found) ? found : Measured.exact(0);
    pooled.push({
      file,
      machine: machineOf(trial),
      machineLabel: trial.data.machine?.label ?? null,
      machineSerial: trial.data.machine?.serial ?? null,
      slot,
      lot: lotOf(cartridge, trial),
      supplier: supplierOf(cartridge, trial),
      serial,
      day,
      price,
      waste,
      pages: yielded.value,
      exhausted: yielded.bound === 'exact' && !failed,
      failed,
      doubted: doubt !== null,
      voided: ground === 'voids-missed',
      span: spanOf(cartridge, trial.run),
      coverageU: coverageUOf(yielded),
    });
  }
  return { pooled, leftOut };
}

/** A cartridge that is there twice, as far as slots and serials tell; null where every one is there once. */
export function twice<T extends Pick<PooledCartridge, 'slot' | 'serial'>>(
  cartridges: readonly T[],
): [T, T] | null {
  const seen = new Map<string, T>();
  for (const cartridge of cartridges) {
    if (cartridge.serial === null) continue;
    const key = JSON.stringify([cartridge.slot, typed(cartridge.serial)]);
    const first = seen.get(key);
    if (first !== undefined) return [first, cartridge];
    seen.set(key, cartridge);
  }
  return null;
}
