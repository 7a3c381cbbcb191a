import { ciede2000, colourDifferenceOf } from '../../src/figures/ciede2000.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { Measured } from '../../src/uncertainty/measured.ts';
import type { Random } from '../fuzz/random.ts';

type Lab = readonly [L: number, a: number, b: number];

/**
 * How often value ± 2u holds the true colour difference of two prints, each of whose six readings is off by a
 * normal error. It should in 95 of 100.
 */
export interface Setting {
  readonly colour: Lab;
  /** From the one print to the other. */
  readonly apart: Lab;
  /** Standard uncertainties of L, a and b. */
  readonly u: Lab;
}

export function heldTrue(sets: number, random: Random, { colour, apart, u }: Setting): number {
  const other: Lab = [colour[0] + apart[0], colour[1] + apart[1], colour[2] + apart[2]];
  const truth = ciede2000(colour, other);
  const read = (true_: number, i: number) => {
    const value = new Decimal((true_ + (u[i] ?? 0) * random.normal()).toFixed(6));
    const input = { path: [i], value, unit: '1', u: new Decimal(u[i] ?? 0) };
    return { path: [i], measured: Measured.reading(value, [input]) };
  };
  const print = (lab: Lab) => [read(lab[0], 0), read(lab[1], 1), read(lab[2], 2)] as const;
  let held = 0;
  for (let set = 0; set < sets; set++) {
    const difference = colourDifferenceOf(print(other), print(colour));
    if (difference.value.minus(truth).abs().lte(difference.u.times(2))) held += 1;
  }
  return held / sets;
}

const COLOURS: readonly Lab[] = [
  [20, 0, 1],
  [50, 60, 20],
  [55, -36, -49],
  [85, -5, 80],
];
const WAYS: readonly Lab[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
  [0.6, -0.6, 0.5],
];
const ERRORS: readonly Lab[] = [
  [0.1, 0.1, 0.1],
  [0.3, 0.02, 0.02],
  [0.02, 0.2, 0.2],
];

export const SETTINGS: readonly Setting[] = COLOURS.flatMap((colour) =>
  WAYS.flatMap((way) =>
    ERRORS.flatMap((u) =>
      [0, 0.1, 0.3, 0.6, 1, 3].map((by): Setting => ({
        colour,
        u,
        apart: [way[0] * by, way[1] * by, way[2] * by],
      })),
    ),
  ),
);
