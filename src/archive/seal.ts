import type { Assessed } from '../judge/assess.ts';
import { type Derived, isDerived } from '../figures/figure.ts';
import type { Judged } from '../judge/judge.ts';
import type { Limit, Origin } from '../judge/limits.ts';
import type { Outcome } from '../judge/decide.ts';
import type { Verdict } from '../judge/verdict.ts';
import { SEVERITY, type Stat, type Effect } from '../trial/catalogue.ts';
import { SEVERITIES } from '../trial/schema/severities.ts';
import { asDecimal, type Decimal } from '../uncertainty/decimal.ts';
import type { Bound } from '../uncertainty/measured.ts';
import type { Input } from './input.ts';
import { readingsIn, type SealedReading } from './readings.ts';

/** Raised when a seal would be read differently than before. */
export const SEAL_FORMAT = 4;

/** What a number is of. */
export interface Of {
  readonly figure: string;
  readonly of: string | null;
  readonly stat: Stat | null;
}

/** A figure with every digit it was derived with: decimals as text, of a severity its word. */
export interface SealedFigure extends Of {
  readonly value: string;
  readonly unit: string;
  /** Standard uncertainty; "0" where exact, null where it cannot be told. */
  readonly u: string | null;
  readonly bound: Bound;
}

interface Edges {
  readonly min: string | null;
  readonly max: string | null;
  readonly unit: string;
  readonly effect: Effect;
}

/** A limit as it was agreed, after all sets were laid over each other. */
export interface SealedLimit extends Of, Edges {
  /** "trial", or the file or preset it comes from, as the trial names it. */
  readonly from: string;
}

/** One figure held against one limit. */
export interface SealedOutcome extends Of, Edges {
  readonly outcome: Outcome;
}

/** How a figure scatters over repeated trials, as the limits said. */
export interface SealedPrecision {
  readonly figure: string;
  readonly of: string | null;
  /** In the unit of the figure. */
  readonly sd: string;
  readonly degrees_of_freedom: string;
}

/** A result with everything it rests on, as it was when it was sealed. */
export interface Seal {
  readonly format: typeof SEAL_FORMAT;
  /** The tool with its version. */
  readonly tool: string;
  /** Name of the trial file, without its folder. */
  readonly file: string;
  readonly trial: string;
  readonly verdict: Verdict;
  /** Doubted readings that someone has looked at again, and how. */
  readonly checked: readonly {
    readonly reading: string;
    readonly note: string;
    readonly by: string | null;
  }[];
  /** Every reading as it was written; null where there are too many, or an earlier format kept none. */
  readonly readings: readonly SealedReading[] | null;
  readonly inputs: readonly Input[];
  /** Limits laid over the trial's own, by name; of a file from the trial's folder. */
  readonly over: readonly string[];
  readonly decision: {
    readonly rule: 'simple' | 'guarded';
    readonly factor: string;
    /** How figures scatter over repeated trials, as the limits said. */
    readonly precision: readonly SealedPrecision[];
  };
  /** % of the page */
  readonly reference_coverage: string;
  readonly limits: readonly SealedLimit[];
  readonly outcomes: readonly SealedOutcome[];
  readonly figures: readonly SealedFigure[];
}

/** What a seal says beside the judged trial itself. */
export interface Sealing {
  readonly tool: string;
  readonly file: string;
  readonly inputs: readonly Input[];
  readonly over: readonly string[];
  /** A file or preset of limits as the trial names it. */
  readonly nameOf: (origin: Exclude<Origin, { kind: 'inline' }>) => string;
}

/** Every digit; no exponent, no -0. */
const digits = (value: Decimal): string => (value.isZero() ? '0' : value.toFixed());

const valueText = (value: Decimal, unit: string): string =>
  (unit === SEVERITY ? SEVERITIES[value.toNumber()] : undefined) ?? digits(value);

function sealedFigure({ figure, of, stat, unit, result }: Derived): SealedFigure[] {
  if (!isDerived(result)) return [];
  const { value, u, bound } = result;
  return [
    {
      figure: figure.name,
      of,
      stat,
      value: valueText(value, unit),
      unit,
      u: digits(u),
      bound,
    },
  ];
}

const edges = ({ min, max, currency, effect }: Limit, unit: string): Edges => ({
  min: min && valueText(min, unit),
  max: max && valueText(max, unit),
  unit: currency ?? unit,
  effect,
});

const sealedLimit = (limit: Limit, nameOf: Sealing['nameOf']): SealedLimit => ({
  figure: limit.figure.name,
  of: limit.of,
  stat: limit.stat,
  ...edges(limit, limit.figure.unit),
  from: limit.origin.kind === 'inline' ? 'trial' : nameOf(limit.origin),
});

const sealedOutcome = ({ limit, derived, outcome }: Judged): SealedOutcome => ({
  figure: derived.figure.name,
  of: derived.of,
  stat: derived.stat,
  ...edges(limit, derived.unit),
  outcome,
});

/** The seal of a judged trial. */
export function sealOf(result: Assessed, { tool, file, inputs, over, nameOf }: Sealing): Seal {
  const { limits, decision, referenceCoverage } = result.agreed;
  return {
    format: SEAL_FORMAT,
    tool,
    file,
    trial: result.trial.title,
    verdict: result.verdict,
    checked: result.trial.checked.map(({ reading, note, by }) => ({ reading, note, by })),
    readings: readingsIn(result.source.data),
    inputs,
    over,
    decision: {
      rule: decision.rule,
      factor: digits(decision.factor),
      precision: decision.precision.map(({ figure, of, sd, freedom }) => ({
        figure,
        of,
        sd: digits(sd),
        degrees_of_freedom: digits(asDecimal(freedom)),
      })),
    },
    reference_coverage: digits(referenceCoverage),
    limits: limits.map((limit) => sealedLimit(limit, nameOf)),
    outcomes: result.judged.map(sealedOutcome),
    figures: result.derived.flatMap(sealedFigure),
  };
}
