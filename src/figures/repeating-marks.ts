import type { TrialData } from '../trial/schema/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';

/** A part that turns, with its diameter in mm. */
export interface RotatingPart {
  readonly part: string;
  readonly diameter: Decimal;
}

/** The rotating parts of a machine, by what a trial says of it. */
export const rotatingPartsOf = (machine: TrialData['machine']): RotatingPart[] =>
  Object.entries(machine?.rotating_parts ?? {}).flatMap(([part, diameter]) =>
    diameter ? [{ part, diameter: diameter.value }] : [],
  );

/** A part whose circumference, or a multiple of it, is a mark's distance. */
export interface Mark {
  readonly part: string;
  /** Turns of the part from one mark to the next. */
  readonly turns: number;
  /** π × diameter × turns, in mm. */
  readonly expected: Decimal;
  /** Distance less expected, in mm. */
  readonly apart: Decimal;
}

const PI = new Decimal('3.141592653589793238462643383279503');
const MOST_TURNS = 6;

/** Slip of the paper and the ruler together, in percent of the distance; common practice, no source. */
export const TOLERANCE = new Decimal(2);

/**
 * The parts that a mark repeating at `distance` mm can come from, fewest turns first and then the nearest: a flaw on a part returns
 * once a turn, every π × diameter, and a distance read over several marks is a multiple of that.
 */
export function marksOn(distance: Decimal, parts: readonly RotatingPart[], tolerance = TOLERANCE): Mark[] {
  const most = distance.times(tolerance).div(100);
  return parts
    .flatMap(({ part, diameter }) =>
      Array.from({ length: MOST_TURNS }, (_, index): Mark => {
        const turns = index + 1;
        const expected = PI.times(diameter).times(turns);
        return { part, turns, expected, apart: distance.minus(expected) };
      }),
    )
    .filter(({ apart }) => apart.abs().lte(most))
    .toSorted((a, b) => a.turns - b.turns || a.apart.abs().cmp(b.apart.abs()));
}
