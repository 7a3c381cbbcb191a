import { asDecimal, Decimal, ZERO } from './decimal.ts';
import { NotDerived } from './not-derived.ts';
import type { Path } from './path.ts';

/** Whether a value is the value, or only a bound of it. */
export type Bound = 'exact' | 'at_least' | 'at_most';

/**
 * One independent source of uncertainty: a reading (its resolution and its instrument's error), a
 * tolerance, or an error that all readings of one instrument share. Known by identity: two figures
 * that use the same reading hold the same `Input`, so it is counted once.
 */
export interface Input {
  /** Where it stands in the file. */
  readonly path: Path;
  readonly value: Decimal;
  /** Unit of `value` and `u`. */
  readonly unit: string;
  /** Standard uncertainty, in `unit`. */
  readonly u: Decimal;
}

const standards = new WeakMap<Input, number>();

/** The standard uncertainty of an input as a double; asked for by every figure it is in. */
function standard(input: Input): number {
  const known = standards.get(input);
  if (known !== undefined) return known;
  const u = input.u.toNumber();
  standards.set(input, u);
  return u;
}

/** What one argument contributes to a result: the argument and the partial derivative with respect to it. */
export type Partial = readonly [argument: Measured, derivative: Decimal | number];

const flip = (bound: Bound): Bound =>
  bound === 'at_least' ? 'at_most' : bound === 'at_most' ? 'at_least' : 'exact';

/** What is left of two terms that cancel is rounding: doubles hold 15 digits. */
const ROUNDING = 1e-13;

const sumOrNothing = (a: number, b: number): number =>
  Math.abs(a + b) < ROUNDING * Math.max(Math.abs(a), Math.abs(b)) ? 0 : a + b;

/**
 * A decimal value with its first-order sensitivity to every input it depends on, and its bound.
 *
 * Combined standard uncertainty (JCGM 100:2008, 5.1.2, equation 10, over independent inputs):
 * u² = Σ (cᵢ uᵢ)², with cᵢ the sensitivity to input i. Correlation between two values that share a
 * reading needs no covariance term: it is in the shared sensitivities.
 *
 * The value is a decimal and never passes through binary floating point. Sensitivities and uncertainties
 * are doubles: 15 digits of them are far more than a first-order model can mean.
 */
export class Measured {
  private constructor(
    readonly value: Decimal,
    readonly sensitivities: ReadonlyMap<Input, number>,
    readonly bound: Bound,
    /** False where no derivative exists to propagate an uncertainty with. */
    readonly uKnown: boolean,
    /** The value as a double where it is known; turning a decimal into one is slow. */
    private approximate?: number,
  ) {}

  /** The value as a double, for slopes. */
  private get double(): number {
    return (this.approximate ??= this.value.toNumber());
  }

  /** A number without uncertainty: a count, a setting, a constant. */
  static exact(value: Decimal | number): Measured {
    return new Measured(new Decimal(value), new Map(), 'exact', true);
  }

  /** The value of one input; several inputs (a reading and its instrument's shared error) add up. */
  static reading(value: Decimal, inputs: readonly Input[]): Measured {
    return new Measured(value, new Map(inputs.map((input) => [input, 1])), 'exact', true);
  }

  /**
   * The result of any formula: its value, and its partial derivative for each argument.
   *
   * A result that falls in an argument turns that argument's bound round; two arguments that bound the
   * result from different sides leave it without a bound, and it is not derived.
   *
   * @throws NotDerived `bounds-conflict`
   */
  static of(value: Decimal, partials: readonly Partial[], double?: number): Measured {
    const sensitivities = new Map<Input, number>();
    let bound: Bound = 'exact';
    let uKnown = true;
    for (const [argument, derivative] of partials) {
      if (argument.sensitivities.size === 0 && argument.bound === 'exact' && argument.uKnown) continue;
      const slope = typeof derivative === 'number' ? derivative : derivative.toNumber();
      if (slope === 0) continue;
      uKnown &&= argument.uKnown;
      for (const [input, c] of argument.sensitivities) {
        const before = sensitivities.get(input);
        sensitivities.set(input, before === undefined ? slope * c : sumOrNothing(before, slope * c));
      }
      if (argument.bound === 'exact') continue;
      const pulls = slope < 0 ? flip(argument.bound) : argument.bound;
      if (bound !== 'exact' && bound !== pulls) throw new NotDerived({ code: 'bounds-conflict' });
      bound = pulls;
    }
    return new Measured(value, sensitivities, bound, uKnown, double);
  }

  plus(other: Measured): Measured {
    const partials: Partial[] = [
      [this, 1],
      [other, 1],
    ];
    return Measured.of(this.value.plus(other.value), partials);
  }

  minus(other: Measured): Measured {
    const partials: Partial[] = [
      [this, 1],
      [other, -1],
    ];
    return Measured.of(this.value.minus(other.value), partials);
  }

  times(other: Measured | Decimal | number): Measured {
    const factor = other instanceof Measured ? other : Measured.exact(other);
    const partials: Partial[] = [
      [this, factor.double],
      [factor, this.double],
    ];
    return Measured.of(this.value.times(factor.value), partials, this.double * factor.double);
  }

  /**
   * This divided by `divisor`, which is named for the reason given when it is zero.
   *
   * @throws NotDerived `divisor-zero`
   */
  over(divisor: Measured | Decimal | number, named: string): Measured {
    const by = divisor instanceof Measured ? divisor : Measured.exact(divisor);
    if (by.value.isZero()) throw new NotDerived({ code: 'divisor-zero', divisor: named });
    const quotient = this.double / by.double;
    const partials: Partial[] = [
      [this, 1 / by.double],
      [by, -quotient / by.double],
    ];
    return Measured.of(this.value.div(by.value), partials, quotient);
  }

  /** The same value and uncertainty, known only as a bound. */
  as(bound: Bound): Measured {
    return new Measured(this.value, this.sensitivities, bound, this.uKnown, this.approximate);
  }

  /** The same value, of which no uncertainty can be told. */
  withUnknownU(): Measured {
    return new Measured(this.value, this.sensitivities, this.bound, false, this.approximate);
  }

  /** Variance each input brings, (c·u)². */
  get contributions(): ReadonlyMap<Input, number> {
    const parts = new Map<Input, number>();
    for (const [input, c] of this.sensitivities) parts.set(input, (c * standard(input)) ** 2);
    return parts;
  }

  /** Combined standard uncertainty; zero when exact. */
  get u(): Decimal {
    return (this.combined ??= this.combine());
  }

  private combined: Decimal | undefined;

  private combine(): Decimal {
    let variance = 0;
    for (const part of this.contributions.values()) variance += part;
    return variance === 0 ? ZERO : asDecimal(Math.sqrt(variance));
  }

  static sum(terms: readonly Measured[]): Measured {
    const total = terms.reduce((sum, { value }) => sum.plus(value), ZERO);
    return Measured.of(
      total,
      terms.map((term): Partial => [term, 1]),
    );
  }
}
