import { coverageOfTrial } from '../figures/mean-coverage.ts';
import { stretchesOf } from '../figures/stretches.ts';
import { type Derived, isDerived } from '../figures/figure.ts';
import type { Assessed } from '../judge/assess.ts';
import { doubted } from '../judge/doubt/all.ts';
import { type Nested, nestedComponents } from '../statistics/nested.ts';
import { CURRENCY, SEVERITY } from '../trial/catalogue.ts';
import { slotOf } from '../trial/cartridges.ts';
import { lotsOf } from '../trial/lot.ts';
import { machineOf } from '../trial/machine.ts';
import type { Trial } from '../trial/trial.ts';
import { ifDerived } from '../uncertainty/not-derived.ts';

/** Figures that say how much was printed: they differ because the runs do. */
const AMOUNTS = new Set(['pages', 'sheets', 'paper_mass', 'waste_mass', 'toner_used']);

/** Whether trials of one lot may tell how a figure scatters: no amount, no price, no word. */
const mayScatter = ({ name, unit }: Derived['figure']): boolean =>
  unit !== CURRENCY && unit !== SEVERITY && !AMOUNTS.has(name);

/** How one figure scatters over trials of one lot. */
export interface FigurePrecision {
  readonly figure: string;
  readonly title: string;
  readonly unit: string;
  /** The slot or patch; null where the figure is of the whole trial. */
  readonly of: string | null;
  readonly values: number;
  readonly trials: number;
  readonly mean: number;
  /** Within a machine and operator, between operators at a machine, between machines. */
  readonly scatter: Nested;
}

/** The scatter of every figure over repeated trials. */
export interface RepeatedTrials {
  /** Null where no trial names it. */
  readonly lot: string | null;
  readonly trials: number;
  readonly machines: number;
  readonly operators: number;
  /** Trials that do not name their machine: with any, machines cannot be told apart. */
  readonly unnamed: number;
  /** Kinds of paper and two-sided shares that were printed. */
  readonly papers: number;
  readonly figures: readonly FigurePrecision[];
  /** Figures of which too few values repeat. */
  readonly tooFew: readonly string[];
}

interface Value {
  readonly value: number;
  readonly file: string;
  readonly machine: string | null;
  readonly operator: string | null;
}

interface Series {
  readonly figure: string;
  readonly title: string;
  readonly unit: string;
  readonly of: string | null;
  readonly values: Value[];
}

/** Two trials that do not repeat each other, and what they are of: two lots, or two coverages in percent. */
export interface NoRepeat {
  readonly by: 'lot' | 'coverage';
  readonly of: readonly [[what: string, file: string], [what: string, file: string]];
}

/** What is kept of judged trials of one lot, taken in one after the other. */
export class Repeats {
  private readonly series = new Map<string, Series>();
  private readonly lots = new Map<string, string>();
  private readonly coverages = new Map<string, string>();
  private readonly papers = new Set<string>();
  private readonly machines = new Set<string>();
  private readonly operators = new Set<string>();
  private trials = 0;
  private unnamed = 0;

  take({ trial, derived, doubts, file }: Assessed): void {
    for (const lot of lotsOf(trial)) if (!this.lots.has(lot)) this.lots.set(lot, file);
    const coverage = coverageOf(trial);
    if (coverage !== null && !this.coverages.has(coverage)) this.coverages.set(coverage, file);
    this.papers.add(paperOf(trial));
    const [machine, operator] = [machineOf(trial), operatorOf(trial)];
    this.trials += 1;
    if (machine === null) this.unnamed += 1;
    else this.machines.add(machine);
    if (operator !== null) this.operators.add(operator);
    for (const { figure, of, stat, unit, judgeable, result } of derived) {
      const part = of === null ? null : slotOf(of);
      // What sums several readings or cartridges up is one of few: a stat, an amount or a price.
      if (stat !== null || !mayScatter(figure) || !judgeable || !isDerived(result)) continue;
      if (result.bound !== 'exact' || doubted(result, doubts) !== null) continue;
      const key = JSON.stringify([figure.name, part]);
      const own = this.series.get(key) ?? {
        figure: figure.name,
        title: figure.title,
        unit,
        of: part,
        values: [],
      };
      own.values.push({ value: result.value.toNumber(), file, machine, operator });
      this.series.set(key, own);
    }
  }

  /** Why the trials do not repeat each other; null where nothing speaks against it. */
  get noRepeat(): NoRepeat | null {
    for (const [by, known] of [
      ['lot', this.lots],
      ['coverage', this.coverages],
    ] as const) {
      const [first, second] = known;
      if (first && second) return { by, of: [first, second] };
    }
    return null;
  }

  /** The scatter of each figure; machines and operators are told apart where every trial names them. */
  result(): RepeatedTrials {
    const figures: FigurePrecision[] = [];
    const tooFew: string[] = [];
    for (const { values, ...of } of this.series.values()) {
      const machines = values.every(({ machine }) => machine !== null);
      const operators = values.every(({ operator }) => operator !== null);
      const scatter = nestedComponents(
        values.map(({ value, machine, operator }) => ({
          value,
          outer: machines ? (machine ?? '') : '',
          inner: operators ? (operator ?? '') : '',
        })),
      );
      if (scatter.whole === null || scatter.whole.sd === 0) {
        tooFew.push(of.of === null ? of.title : `${of.title}, ${of.of}`);
        continue;
      }
      const mean = values.reduce((sum, one) => sum + one.value, 0) / values.length;
      const trials = new Set(values.map(({ file }) => file)).size;
      figures.push({ ...of, values: values.length, trials, mean, scatter });
    }
    const [lot = null] = this.lots.keys();
    return {
      lot,
      trials: this.trials,
      machines: this.machines.size,
      operators: this.operators.size,
      unnamed: this.unnamed,
      papers: this.papers.size,
      figures,
      tooFew,
    };
  }
}

const operatorOf = ({ data: { trial } }: Trial): string | null =>
  typeof trial === 'string' ? null : (trial.operator ?? null);

/**
 * The coverage of a trial by its slots, in percent; null where it is not told. Where batches have their own it is the
 * mean over the pages of the trial, to a tenth of a percent: what runs of the same documents may differ by.
 */
function coverageOf({ run }: Trial): string | null {
  const { coverages } = run;
  if (stretchesOf(run).length > 1) {
    const slots = [...new Set(run.cartridges.map(({ slot }) => slot))];
    const means = slots.map((slot): string | null => {
      const mean = ifDerived(() => coverageOfTrial(run, [slot]).value);
      return mean && `${slot === null ? '' : `${slot} `}${mean.toDecimalPlaces(1).toFixed()}`;
    });
    return means.includes(null) ? null : means.toSorted().join(', ');
  }
  const told = [...coverages].flatMap(([slot, { measured }]) =>
    measured === null ? [] : [`${slot === null ? '' : `${slot} `}${measured.value.toFixed()}`],
  );
  return told.length === 0 ? null : told.toSorted().join(', ');
}

const paperOf = ({ run: { paper, duplexShare } }: Trial): string =>
  [paper.width, paper.height, paper.grammage, duplexShare.value].map((one) => one.toFixed()).join(' ');
