import type { Derived } from '../figures/figure.ts';
import { normalDistribution } from '../statistics/normal.ts';
import { studentDistribution, studentQuantile } from '../statistics/student.ts';
import { slotOf } from '../trial/cartridges.ts';
import { asDecimal, type Decimal } from '../uncertainty/decimal.ts';
import type { Measured } from '../uncertainty/measured.ts';
import type { Decision, Precision } from './limits.ts';

/** What a decision knows of the scatter of a figure over repeated trials; null where it knows nothing. */
export function precisionOf({ precision }: Decision, { figure, of, stat }: Derived): Precision | null {
  if (stat !== null) return null;
  const slot = of === null ? null : slotOf(of);
  const own = precision.filter((one) => one.figure === figure.name);
  return (
    own.find((one) => one.of !== null && (one.of === of || one.of === slot)) ??
    own.find((one) => one.of === null) ??
    null
  );
}

/** The uncertainty of a figure, should the trial be repeated. */
export class Repeated {
  /** Standard uncertainty, in the unit of the figure. */
  readonly u: Decimal;
  /** Effective degrees of freedom. */
  readonly freedom: number;

  /**
   * The standard deviation of repeated trials and the uncertainty of the readings, added as squares; degrees of
   * freedom by Welch and Satterthwaite (JCGM 100:2008, G.4.1, from memory), those of the readings infinite. What of the readings
   * changes from trial to trial is in both, which widens rather than narrows.
   */
  constructor(figure: Measured, { sd, freedom }: Precision) {
    const [own, spread] = [figure.u.toNumber(), sd.toNumber()];
    const variance = own ** 2 + spread ** 2;
    this.u = asDecimal(Math.sqrt(variance));
    this.freedom = spread === 0 ? Infinity : (variance ** 2 / spread ** 4) * freedom;
  }

  /** Half the interval that `factor` standard uncertainties would be of a normal value, by Student's t. */
  expanded(factor: number): Decimal {
    const k = Number.isFinite(this.freedom)
      ? studentQuantile(normalDistribution(factor), this.freedom)
      : factor;
    return this.u.times(asDecimal(k));
  }

  /** P(true value ≤ edge), from the value of the figure. */
  upTo(edge: Decimal, value: Decimal): number {
    const t = edge.minus(value).div(this.u).toNumber();
    return Number.isFinite(this.freedom) ? studentDistribution(t, this.freedom) : normalDistribution(t);
  }
}

/** The uncertainty of a figure if repeated; null where no precision is known of it, or it is only a bound. */
export function repeated(figure: Measured, derived: Derived, decision: Decision): Repeated | null {
  const precision = figure.bound === 'exact' ? precisionOf(decision, derived) : null;
  return precision && new Repeated(figure, precision);
}
