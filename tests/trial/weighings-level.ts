import { Instruments } from '../../src/trial/instruments.ts';
import { repeated } from '../../src/trial/repeated.ts';
import type { Quantity } from '../../src/trial/quantity.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import type { Random } from '../fuzz/random.ts';

/** One thing weighed `n` times to a whole gram, with a scale that scatters and may be wrong by as much each time. */
export interface Setting {
  readonly n: number;
  /** Standard deviation of a weighing before it is rounded, in g. */
  readonly sd: number;
  /** Largest error of the scale, the same in all weighings of the thing, in g. */
  readonly error: number;
}

const ONE = new Decimal(1);

/** How often the mean ± 2u holds the true mass. It should in 95 of 100 at least. */
export function heldTrue(sets: number, random: Random, { n, sd, error }: Setting): number {
  const max_error: Quantity = { value: new Decimal(error), resolution: ONE, text: `${error} g` };
  let held = 0;
  for (let set = 0; set < sets; set++) {
    const mass = 900 + random.next();
    const off = error * (2 * random.next() - 1);
    const values = Array.from({ length: n }, (): Quantity => {
      const value = new Decimal(Math.round(mass + off + sd * random.normal()));
      return { value, resolution: ONE, text: value.toFixed() };
    });
    const scale = new Instruments({ scale: { max_error } });
    const { measured } = scale.read('scale', 'g', ['waste_container', 'final'], repeated(values));
    if (measured?.value.minus(mass).abs().lte(measured.u.times(2))) held += 1;
  }
  return held / sets;
}

/** Scatter from well below to well above the last digit, with and without an error of the scale. */
export const SETTINGS: readonly Setting[] = [2, 3, 4, 5, 10, 20].flatMap((n) =>
  [0, 0.3, 0.6, 1, 1.6, 3, 5, 20].flatMap((sd) => [0, 1].map((error) => ({ n, sd, error }))),
);
