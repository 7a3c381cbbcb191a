import type { Agreed } from '../judge/limits.ts';
import type { FigureEntry } from '../trial/catalogue.ts';
import { type Digest, type Draw, draw } from '../lot/draw.ts';
import {
  type LotRule,
  type Numbers,
  numbersAt,
  sequentialRule,
  type SequentialRule,
  singleRule,
  type SingleRule,
} from '../lot/rule.ts';
import { type PlannedClass, plannedClasses } from '../lot/judged-inspection.ts';
import {
  agreedOfFindings,
  agreementOf,
  probability,
  type Quality,
  type Terms,
  termsOf,
} from '../lot/terms.ts';
import { type Course, courseOf } from '../statistics/sampling-plan.ts';
import { type VariablesPlan, variablesPlan, variablesPlanKnown } from '../statistics/variables-plan.ts';
import type { Trial } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { hoursFor } from './hours.ts';
import { reamsFor } from './paper.ts';
import { from, given, type Planned, planned, valueOf } from './planned.ts';
import { relativeCoverageU } from './replicates.ts';
import { pagesOf, sheetsFor } from './run.ts';

/** How a lot is to be tried, for the terms a trial names. */
export interface LotPlan {
  readonly terms: Planned<Terms>;
  readonly single: Planned<SingleRule>;
  readonly sequential: Planned<SequentialRule>;
  /** After how many tried the sequential rule accepts and rejects. */
  readonly steps: readonly StepRow[];
  /** What becomes of lots, by how many of their cartridges fail. */
  readonly characteristic: readonly CharacteristicRow[];
  /** What each rule takes. */
  readonly takes: readonly Takes[];
  /** Null where no yield has a lower limit. */
  readonly variables: ByVariables | null;
  /** What is to be looked at on delivery, by the classes that something was agreed of; null where nothing was. */
  readonly inspection: Planned<readonly PlannedClass[]> | null;
  readonly drawn: Planned<Draw> | null;
}

/** What the sequential rule says after so many. */
export interface StepRow extends Numbers {
  readonly tried: number;
}

/** Lots of one quality under the rules. */
export interface CharacteristicRow {
  readonly failing: number;
  readonly single: Course;
  /** Null where there is no sequential rule. */
  readonly sequential: Course | null;
}

/** Trials of one cartridge each, and what they take. */
export interface Takes {
  readonly what: 'single-most' | 'single' | 'sequential' | 'variables' | 'variables-known';
  readonly trials: number;
  readonly reams: Planned<number>;
  readonly hours: Planned<Decimal>;
}

/** Acceptance by the mean and the deviation of a yield instead of by counting. */
export interface ByVariables {
  readonly figure: FigureEntry;
  /** The lower limit, in pages. */
  readonly min: Decimal;
  /** The deviation estimated from the cartridges tried. */
  readonly unknown: Planned<VariablesPlan>;
  /** The deviation known beforehand: `target.expected_sd`. */
  readonly known: Planned<VariablesPlan & { readonly sd: Decimal }>;
  /** The most uncertainty a yield may have, a tenth of the deviation expected, in pages; null where none is. */
  readonly mostU: Decimal | null;
  /** The uncertainty that the coverage gives a yield, in pages; null where no yield is expected. */
  readonly u: Decimal | null;
}

/** A seed to draw cartridges by. */
export interface Drawing {
  readonly seed: string;
  readonly digest: Digest;
}

/** More than these no one would try. */
const MOST_TRIED = 1000;
/** Rows of the sequential table that a sheet has space for. */
const MOST_STEPS = 90;

/** How the lot of a trial is to be tried; null where the trial names no terms for it. */
export function lotPlanOf(trial: Trial, agreed: Agreed, drawing: Drawing | null): LotPlan | null {
  const { data } = trial;
  if (!data.target?.lot && drawing === null) return null;
  const size = planned(() => given(data.lot?.size, 'lot', 'size').value.toNumber());
  const terms = planned(() => termsOf(from(size), agreementOf(data)));
  const single = planned(() => {
    const rule = singleRule(from(terms));
    if (rule.plan.sample > MOST_TRIED)
      throw new NotDerived({
        code: 'lot-beyond-trying',
        most: MOST_TRIED,
        path: ['target', 'lot', 'limiting_quality'],
      });
    return rule;
  });
  const sequential = planned(() => {
    from(single);
    return sequentialRule(from(terms));
  });
  const inspection = data.target?.lot?.inspection
    ? planned(() => plannedClasses(from(size), agreedOfFindings(data)))
    : null;
  const variables = byVariables(trial, agreed, terms);
  const rules = 'value' in terms && 'value' in single ? { terms: terms.value, single: single.value } : null;
  const wald = 'value' in sequential ? sequential.value : null;
  const characteristic = rules === null ? [] : characteristicOf(rules.terms, rules.single, wald);
  return {
    terms,
    single,
    sequential,
    steps: rules === null || wald === null ? [] : stepsOf(rules.terms, rules.single, wald),
    characteristic,
    takes: rules === null ? [] : takesOf(trial, rules.terms, rules.single, characteristic, variables),
    variables,
    inspection,
    drawn:
      drawing &&
      planned(() => {
        const inspected = (inspection && valueOf(inspection)?.[0]?.rule.plan.sample) ?? 0;
        // Who only inspects needs no rule for trials.
        const sample = inspected > 0 ? (valueOf(single)?.plan.sample ?? 0) : from(single).plan.sample;
        const most = Math.max(inspected, wald === null ? sample : 2 * sample);
        return draw(from(size), Math.min(from(size), most), drawing.seed, drawing.digest);
      }),
  };
}

function stepsOf({ size }: Terms, { plan }: SingleRule, rule: SequentialRule): StepRow[] {
  const rows = Math.min(size, MOST_STEPS, 2 * plan.sample);
  return Array.from({ length: rows }, (_, index) => ({ tried: index + 1, ...numbersAt(rule, index + 1) }));
}

/** Parts of the limiting quality that a characteristic is shown at, beside none failing and the acceptable quality. */
const PARTS = [0.25, 0.5, 0.75, 1, 1.5, 2];

function characteristicOf(
  { size, limiting, acceptable }: Terms,
  single: LotRule,
  sequential: LotRule | null,
): CharacteristicRow[] {
  const parts = PARTS.map((part) => Math.round(part * limiting.failing));
  const all = new Set([0, acceptable?.failing ?? 0, limiting.failing, ...parts]);
  const failing = [...all].filter((count) => count <= size).sort((a, b) => a - b);
  return failing.map((count) => ({
    failing: count,
    single: courseOf(size, count, single.step),
    sequential: sequential && courseOf(size, count, sequential.step),
  }));
}

/** What a lot of the acceptable quality, or of none failing, takes under each rule. */
function takesOf(
  trial: Trial,
  { acceptable }: Terms,
  { plan }: SingleRule,
  characteristic: readonly CharacteristicRow[],
  variables: ByVariables | null,
): Takes[] {
  const good = characteristic.find(({ failing }) => failing === (acceptable?.failing ?? 0));
  const pages = planned(() => pagesOf(trial));
  const take = (what: Takes['what'], trials: number | null | undefined): Takes[] => {
    if (trials == null) return [];
    return [
      {
        what,
        trials,
        reams: planned(() => reamsFor(trial, sheetsFor(trial, from(pages)), trials)),
        hours: planned(() => hoursFor(trial, from(pages)).times(trials)),
      },
    ];
  };
  return [
    ...take('single-most', plan.sample),
    ...take('single', good?.single.tried),
    ...take('sequential', good?.sequential?.tried),
    ...(variables && 'value' in variables.unknown ? take('variables', variables.unknown.value.sample) : []),
    ...(variables && 'value' in variables.known ? take('variables-known', variables.known.value.sample) : []),
  ];
}

/** Figures a plan by variables is made for. */
const YIELDS: ReadonlySet<string> = new Set(['yield', 'yield_at_reference']);

/** Above a half the mean itself would be below the limit. */
const HALF = 50;

/** A tenth: common practice, no source. Then the scatter of the readings adds half a percent to that of the yields. */
const TENTH = 10;

function byVariables(
  { data: { target }, run }: Trial,
  { limits }: Agreed,
  terms: Planned<Terms>,
): ByVariables | null {
  const limit = limits.find(
    ({ figure, stat, min, effect }) =>
      YIELDS.has(figure.name) && stat === null && min !== null && effect === 'fails',
  );
  if (!limit?.min) return null;
  const shares = () => {
    const { limiting, acceptable } = from(terms);
    const good = given(acceptable, 'target', 'lot', 'acceptable_quality');
    if (limiting.share.gte(HALF)) {
      const path = ['target', 'lot', 'limiting_quality'];
      throw new NotDerived({ code: 'outside-formula', path, range: `less than ${HALF} %` });
    }
    const share = ({ share: percent, risk }: Quality) => ({
      share: probability(percent),
      risk: probability(risk),
    });
    return [share(good), share(limiting)] as const;
  };
  const found = (plan: VariablesPlan | null): VariablesPlan => {
    if (plan !== null) return plan;
    const path = ['target', 'lot', 'limiting_quality'];
    throw new NotDerived({ code: 'lot-beyond-trying', most: MOST_TRIED, path });
  };
  const sd = target?.expected_sd?.value ?? null;
  const expected = target?.expected_yield?.value ?? null;
  return {
    figure: limit.figure,
    min: limit.min,
    unknown: planned(() => found(variablesPlan(...shares()))),
    known: planned(() => ({
      ...found(variablesPlanKnown(...shares())),
      sd: given(sd, 'target', 'expected_sd'),
    })),
    mostU: sd?.div(TENTH) ?? null,
    u: expected?.times(new Decimal(relativeCoverageU(run))) ?? null,
  };
}
