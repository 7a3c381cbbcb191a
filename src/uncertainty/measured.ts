import { asDecimal, Decimal, ZERO } from './decimal.ts';
import { NotDerived } from './not-derived.ts';
import type { Path } from './path.ts';
import { compareRatios, negative, productOf, quotientOf, type Ratio, ratioOf, sumOf } from './ratio.ts';

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
  /** Half the width of the rectangle that most of `u` comes from, in `unit`; absent where there is none. */
  readonly half?: number;
  /** Of the scatter of several readings of one thing, how many there are; absent in what one reading has by itself. */
  readonly readings?: number;
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

/** Gives the exact ratio a value is; null where it is none that could be given. */
type Unrounded = (() => Ratio) | null;

/** Closer than this to a limit, relative to it, a value of 34 digits may be on the other side of it. */
const NEAR = new Decimal('1e-28');

const NOTHING: Ratio = { over: 0n, under: 1n };

/** What one argument contributes to a result: the argument and the partial derivative with respect to it. */
export type Partial = readonly [argument: Measured, derivative: Decimal | number];

/** The place of a reading in the file. */
interface Place {
  readonly path: Path;
}

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
    /** What it was made of: the place of a reading, or other values. */
    private readonly from: readonly (Measured | Place)[],
    /** The value as a double where it is known; turning a decimal into one is slow. */
    private approximate?: number,
    /** The value unrounded, where it is made of decimals by + − × ÷ alone; asked for only where it decides. */
    private readonly unrounded: Unrounded = null,
  ) {}

  /**
   * Places in the file of all readings the value rests on, exact ones (a meter, a count, a setting) included:
   * each once, in the order they come into the formula.
   */
  get restsOn(): readonly Path[] {
    const places = new Set<Path>();
    const seen = new Set<Measured>();
    const open: (Measured | Place)[] = [this];
    for (let next = open.pop(); next !== undefined; next = open.pop()) {
      if (!(next instanceof Measured)) places.add(next.path);
      else if (!seen.has(next)) {
        seen.add(next);
        open.push(...next.from.toReversed());
      }
    }
    return [...places];
  }

  /** The value as a double, for slopes. */
  private get double(): number {
    return (this.approximate ??= this.value.toNumber());
  }

  /**
   * How the value compares with a decimal: below zero, zero, or above. A quotient is rounded to 34 digits; where
   * those cannot tell, the exact ratio does.
   */
  compare(other: Decimal): number {
    const difference = this.value.minus(other);
    const near = difference.abs().lte(other.abs().times(NEAR));
    if (!near || this.unrounded === null) return difference.isZero() ? 0 : difference.isNegative() ? -1 : 1;
    return compareRatios(this.unrounded(), ratioOf(other));
  }

  /** A number without uncertainty: a count, a setting, with its place in the file; or a constant, which has none. */
  static exact(value: Decimal | number, path?: Path): Measured {
    const decimal = new Decimal(value);
    const from = path === undefined ? [] : [{ path }];
    return new Measured(decimal, new Map(), 'exact', from, undefined, () => ratioOf(decimal));
  }

  /** The value of the reading at `path`; its inputs (its own, and its instrument's shared error) add up. */
  static reading(value: Decimal, inputs: readonly Input[], path?: Path): Measured {
    const sensitivities = new Map(inputs.map((input) => [input, 1]));
    const from = path === undefined ? [] : [{ path }];
    return new Measured(value, sensitivities, 'exact', from, undefined, () => ratioOf(value));
  }

  /**
   * The result of any formula: its value, and its partial derivative for each argument.
   *
   * A result that falls in an argument turns that argument's bound round; two arguments that bound the
   * result from different sides leave it without a bound, and it is not derived.
   *
   * `unrounded` gives the value exactly, where decimals come to it by + − × ÷ alone.
   *
   * @throws NotDerived `bounds-conflict`
   */
  static of(
    value: Decimal,
    partials: readonly Partial[],
    double?: number,
    unrounded: Unrounded = null,
  ): Measured {
    const sensitivities = new Map<Input, number>();
    const from: Measured[] = [];
    let bound: Bound = 'exact';
    for (const [argument, derivative] of partials) {
      if (argument.from.length > 0) from.push(argument);
      if (argument.sensitivities.size === 0 && argument.bound === 'exact') continue;
      const slope = typeof derivative === 'number' ? derivative : derivative.toNumber();
      if (slope === 0) continue;
      for (const [input, c] of argument.sensitivities) {
        const before = sensitivities.get(input);
        sensitivities.set(input, before === undefined ? slope * c : sumOrNothing(before, slope * c));
      }
      if (argument.bound === 'exact') continue;
      const pulls = slope < 0 ? flip(argument.bound) : argument.bound;
      if (bound !== 'exact' && bound !== pulls) throw new NotDerived({ code: 'bounds-conflict' });
      bound = pulls;
    }
    return new Measured(value, sensitivities, bound, from, double, unrounded);
  }

  plus(other: Measured): Measured {
    const partials: Partial[] = [
      [this, 1],
      [other, 1],
    ];
    return Measured.of(
      this.value.plus(other.value),
      partials,
      undefined,
      Measured.together(sumOf, this, other),
    );
  }

  minus(other: Measured): Measured {
    const partials: Partial[] = [
      [this, 1],
      [other, -1],
    ];
    const less = (a: Ratio, b: Ratio): Ratio => sumOf(a, negative(b));
    return Measured.of(
      this.value.minus(other.value),
      partials,
      undefined,
      Measured.together(less, this, other),
    );
  }

  times(other: Measured | Decimal | number): Measured {
    const factor = other instanceof Measured ? other : Measured.exact(other);
    const partials: Partial[] = [
      [this, factor.double],
      [factor, this.double],
    ];
    const exactly = Measured.together(productOf, this, factor);
    return Measured.of(this.value.times(factor.value), partials, this.double * factor.double, exactly);
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
    return Measured.of(this.value.div(by.value), partials, quotient, Measured.together(quotientOf, this, by));
  }

  /** The same value and uncertainty, known only as a bound. */
  as(bound: Bound): Measured {
    const { value, sensitivities, from, approximate, unrounded } = this;
    return new Measured(value, sensitivities, bound, from, approximate, unrounded);
  }

  /** The same value, chosen among others: had one of them been another, it might not be the chosen one. */
  among(others: readonly Measured[]): Measured {
    const { value, sensitivities, bound, approximate, unrounded } = this;
    return new Measured(value, sensitivities, bound, [this, ...others], approximate, unrounded);
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

  /** Half the width that the widest rectangle among the inputs has in the result; zero where there is none. */
  get widestHalf(): number {
    let widest = 0;
    for (const [{ half = 0 }, c] of this.sensitivities) widest = Math.max(widest, Math.abs(c) * half);
    return widest;
  }

  /** Covariance with another value, by the inputs they share. */
  covariance(other: Measured): number {
    const [few, many] = this.sensitivities.size <= other.sensitivities.size ? [this, other] : [other, this];
    let sum = 0;
    for (const [input, c] of few.sensitivities)
      sum += c * (many.sensitivities.get(input) ?? 0) * standard(input) ** 2;
    return sum;
  }

  private combined: Decimal | undefined;

  private combine(): Decimal {
    let variance = 0;
    for (const part of this.contributions.values()) variance += part;
    return variance === 0 ? ZERO : asDecimal(Math.sqrt(variance));
  }

  static sum(terms: readonly Measured[]): Measured {
    return Measured.weighted(
      terms.map((term) => [term, 1]),
      1,
    );
  }

  /** Σ (weight × term) / whole; the weights and the whole are whole numbers, or decimals of few digits. */
  static weighted(terms: readonly (readonly [term: Measured, weight: number])[], whole: number): Measured {
    const total = terms.reduce((sum, [{ value }, weight]) => sum.plus(value.times(weight)), ZERO);
    const exactly = (): Ratio => {
      const sum = terms.reduce(
        (all, [term, weight]) => sumOf(all, productOf(Measured.exactOf(term), ratioOf(new Decimal(weight)))),
        NOTHING,
      );
      return quotientOf(sum, ratioOf(new Decimal(whole)));
    };
    return Measured.of(
      total.div(whole),
      terms.map(([term, weight]): Partial => [term, weight / whole]),
      undefined,
      terms.every((term) => term[0].unrounded !== null) ? exactly : null,
    );
  }

  /** The exact value of an operation on two values, where both have one. */
  private static together(
    operation: (a: Ratio, b: Ratio) => Ratio,
    { unrounded: a }: Measured,
    { unrounded: b }: Measured,
  ): Unrounded {
    return a === null || b === null ? null : () => operation(a(), b());
  }

  private static exactOf({ unrounded, value }: Measured): Ratio {
    return unrounded === null ? ratioOf(value) : unrounded();
  }
}
