import type { Decimal } from '../uncertainty/decimal.ts';
import { type Estimate, estimateOf, type PartOf } from './estimate.ts';
import { type Fit, fitOf, rangeOf } from './fit.ts';
import { coverageOf, type Kind, type KindCoverage, type Mix } from './mix.ts';
import { nextTrial, type NextTrial } from './next-trial.ts';
import { stopsIn, type StopsTried, type TriedStops } from './stops.ts';
import type { LeftOut, Tried, TriedSide, TriedSlot, Usable } from './tried.ts';
import { beyondOf, type Beyond, portionsOf, type Usage, usageOf } from './usage.ts';

/** Why something is not forecast. */
export type Withheld =
  /** Fewer than two coverages were tried: these were. */
  | { readonly code: 'no-line'; readonly coverages: readonly number[] }
  /** Kinds of page for which the mix gives no coverage of the slot. */
  | { readonly code: 'no-coverage'; readonly kinds: readonly string[] }
  | { readonly code: 'beyond'; readonly beyond: Beyond; readonly least: number; readonly greatest: number }
  | { readonly code: 'nothing-used' }
  | { readonly code: 'no-fill' }
  | { readonly code: 'no-price' }
  | { readonly code: 'prices-differ'; readonly prices: readonly string[] }
  | { readonly code: 'no-events' }
  | { readonly code: 'no-capacity' }
  | { readonly code: 'capacities-differ'; readonly capacities: readonly number[] }
  /** A slot that it needs is not forecast. */
  | { readonly code: 'slot-missing'; readonly slots: readonly (string | null)[] };

/** A forecast number, or why there is none. */
export type Forecast = Estimate | Withheld;

export const isForecast = (result: Forecast): result is Estimate => !('code' in result);

/** What a mix takes of one slot. */
export interface SlotForecast {
  /** % of the page, on the mean over the mix; null where it is not known. */
  readonly coverage: KindCoverage | null;
  /** What of the mix lies beyond the coverages tried, where it is forecast all the same. */
  readonly beyond: Beyond | null;
  /** mg a page */
  readonly usage: Forecast;
  /** Pages of one cartridge. */
  readonly yield: Forecast;
  readonly currency: string | null;
  /** For a thousand pages. */
  readonly costPerThousand: Forecast;
  /** Null where no pages a month are given. */
  readonly cartridgesPerYear: Forecast | null;
  readonly costPerYear: Forecast | null;
  /** The relative variance of the yield (of the toner a page where there is none) by where it comes from, largest first. */
  readonly parts: readonly PartOf[];
  readonly next: NextTrial | null;
}

/** One slot of one side: the fit, and what the mix takes. */
export interface SlotResult {
  readonly slot: string | null;
  readonly tried: TriedSlot;
  readonly fit: Fit | null;
  /** Null without a mix. */
  readonly mix: SlotForecast | null;
}

/** What a mix leaves as waste. */
export interface WasteForecast {
  readonly coverage: KindCoverage | null;
  readonly beyond: Beyond | null;
  /** mg a page */
  readonly waste: Forecast;
  readonly containersPerYear: Forecast | null;
}

/** Candidate or reference. */
export interface SideResult {
  readonly slots: readonly SlotResult[];
  readonly waste: {
    readonly fit: Fit | null;
    readonly points: TriedSide['waste'];
    readonly mix: WasteForecast | null;
  };
  /** Stops of the machine in a year; null where no pages a month are given. */
  readonly stopsPerYear: Forecast | null;
  /** Of all slots together; null without a mix. */
  readonly total: {
    readonly currency: string | null;
    readonly costPerThousand: Forecast;
    readonly costPerYear: Forecast | null;
  } | null;
}

/** Everything a forecast came to. */
export interface ForecastResult {
  readonly candidate: SideResult;
  /** Null where the trials hold no reference run with weights. */
  readonly reference: SideResult | null;
  readonly mix: Mix | null;
  readonly pagesPerMonth: number | null;
  readonly tried: Tried;
  readonly leftOut: readonly LeftOut[];
}

export interface ForecastRule {
  readonly mix: Mix | null;
  readonly pagesPerMonth: Decimal | null;
  /** Whether pages beyond the coverages tried are forecast, at a greater uncertainty. */
  readonly beyond: boolean;
}

/** The fits of all that was tried, and what a mix takes by them. */
export function forecastFrom(
  tried: Tried,
  stops: TriedStops,
  { mix, pagesPerMonth, beyond }: ForecastRule,
): ForecastResult {
  const pages = pagesPerMonth?.toNumber() ?? null;
  const side = (of: TriedSide, stopped: StopsTried): SideResult => sideOf(of, stopped, mix, pages, beyond);
  const referenced = [...tried.reference.slots.values()].some(({ points }) => points.length > 0);
  return {
    candidate: side(tried.candidate, stops.candidate),
    reference: referenced ? side(tried.reference, stops.reference) : null,
    mix,
    pagesPerMonth: pages,
    tried,
    leftOut: tried.leftOut,
  };
}

const MONTHS = 12;

function sideOf(
  side: TriedSide,
  stopped: StopsTried,
  mix: Mix | null,
  perMonth: number | null,
  beyond: boolean,
): SideResult {
  const perYear = perMonth === null ? null : MONTHS * perMonth;
  const slots = [...side.slots.values()].map((tried): SlotResult => {
    const fit = fitOf(tried.points);
    return {
      slot: tried.slot,
      tried,
      fit,
      mix: mix && slotForecast(tried, fit, mix, perYear, beyond),
    };
  });
  const fit = fitOf(side.waste);
  const names = slots.map(({ slot }) => slot);
  return {
    slots,
    waste: { fit, points: side.waste, mix: mix && wasteForecast(side, fit, names, mix, perYear, beyond) },
    stopsPerYear: perYear === null ? null : (stopsIn(stopped, perYear) ?? { code: 'no-events' }),
    total: mix && totalOf(slots, perYear !== null),
  };
}

/** What a fit says of a mix, or why it says nothing. */
type Read =
  | { readonly usage: Usage; readonly beyond: Beyond | null; readonly factor: number }
  | { readonly why: Withheld; readonly coverage: KindCoverage | null };

function readMix(
  fit: Fit | null,
  points: TriedSlot['points'],
  mix: Mix,
  coverageIn: (kind: Kind) => KindCoverage | null,
  allowed: boolean,
): Read {
  const portions = portionsOf(mix.kinds, coverageIn);
  if (portions === null) {
    const kinds = mix.kinds.filter((kind) => coverageIn(kind) === null).map(({ name }) => name);
    return { why: { code: 'no-coverage', kinds }, coverage: null };
  }
  const mean: KindCoverage = {
    value: portions.reduce((sum, { share, coverage }) => sum + share * coverage.value, 0),
    u: Math.sqrt(portions.reduce((sum, { share, coverage }) => sum + (share * coverage.u) ** 2, 0)),
  };
  if (fit === null) {
    const coverages = [...new Set(points.map(({ coverage }) => coverage))];
    return { why: { code: 'no-line', coverages }, coverage: mean };
  }
  const beyond = beyondOf(fit, portions);
  if (beyond !== null && !allowed) {
    const [least, greatest] = rangeOf(fit);
    return { why: { code: 'beyond', beyond, least, greatest }, coverage: mean };
  }
  const factor = beyond?.factor ?? 1;
  const usage = usageOf(fit, portions, factor);
  return usage === null ? { why: { code: 'nothing-used' }, coverage: mean } : { usage, beyond, factor };
}

function slotForecast(
  tried: TriedSlot,
  fit: Fit | null,
  mix: Mix,
  perYear: number | null,
  allowed: boolean,
): SlotForecast {
  const coverageIn = (kind: Kind): KindCoverage | null => coverageOf(kind, tried.slot);
  const read = readMix(fit, tried.points, mix, coverageIn, allowed);
  if ('why' in read || fit === null) {
    const why: Withheld = 'why' in read ? read.why : { code: 'no-line', coverages: [] };
    const none = perYear === null ? null : why;
    return {
      coverage: 'why' in read ? read.coverage : null,
      beyond: null,
      usage: why,
      yield: why,
      currency: null,
      costPerThousand: why,
      cartridgesPerYear: none,
      costPerYear: none,
      parts: [],
      next: null,
    };
  }
  const { usage, beyond, factor } = read;
  const known = fit.freedom > 0;
  const portions = portionsOf(mix.kinds, coverageIn) ?? [];
  const toner = estimateOf(usage.mass, usage.parts, known);
  const usable = usableOf(tried);
  const price = priceOf(tried);
  const shared = {
    coverage: usage.coverage,
    beyond,
    usage: toner,
    currency: 'amount' in price ? price.currency : null,
    next: nextTrial(fit, portions, factor),
  };
  if (usable === null) {
    const none: Withheld = { code: 'no-fill' };
    const year = perYear === null ? null : none;
    return {
      ...shared,
      yield: none,
      costPerThousand: 'amount' in price ? none : price,
      cartridgesPerYear: year,
      costPerYear: year,
      parts: largestFirst(usage.parts),
    };
  }
  const parts = [...usage.parts, ...usable.parts(1)];
  const pages = (1000 * usable.mass) / usage.mass;
  const cost = (value: number, of: readonly PartOf[]): Forecast =>
    'amount' in price ? estimateOf(value * price.amount, of, known) : price;
  const perYearCount = perYear === null ? null : perYear / pages;
  const ofYear = perYearCount === null ? [] : overMany(usage.parts, usable, perYearCount);
  return {
    ...shared,
    yield: estimateOf(pages, parts, known),
    costPerThousand: cost(1000 / pages, parts),
    cartridgesPerYear: perYearCount === null ? null : estimateOf(perYearCount, ofYear, known),
    costPerYear: perYearCount === null ? null : cost(perYearCount, ofYear),
    parts: largestFirst(parts),
  };
}

const largestFirst = (parts: readonly PartOf[]): readonly PartOf[] =>
  parts.filter(({ variance }) => variance > 0).toSorted((a, b) => b.variance - a.variance);

/** Parts of a mean over many cartridges: what differs from one to the next averages out, the rest stays. */
const overMany = (parts: readonly PartOf[], usable: UsableToner, cartridges: number): PartOf[] => {
  const many = Math.max(1, cartridges);
  return [
    ...parts.map((part) =>
      part.part === 'next-cartridge' ? { ...part, variance: part.variance / many } : part,
    ),
    ...usable.parts(many),
  ];
};

/** Toner a cartridge gives, in g, and where its relative variance comes from in a mean over so many cartridges. */
interface UsableToner {
  readonly mass: number;
  parts(cartridges: number): PartOf[];
}

/** By the cartridges that were emptied; else by fill and residue as stated. Null where neither is known. */
function usableOf({ emptied, filled }: TriedSlot): UsableToner | null {
  const of = emptied.length > 0 ? emptied : filled;
  if (of.length === 0) return null;
  const mass = meanOf(of.map((one) => one.mass));
  if (!(mass > 0)) return null;
  const k = of.length;
  const scatter = k < 2 ? 0 : of.reduce((sum, one) => sum + (one.mass - mass) ** 2, 0) / (k - 1);
  const readings = meanOf(of.map(({ u }: Usable) => u ** 2));
  // The scatter has that of the weighings in it; alike to the digit, the weighings are what is left.
  const spread = Math.max(scatter, readings);
  return {
    mass,
    parts: (cartridges) => [
      {
        part: 'usable-toner',
        variance: (spread * (1 / k + 1 / cartridges)) / mass ** 2,
        freedom: scatter > readings ? k - 1 : Infinity,
      },
    ],
  };
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, one) => sum + one, 0) / values.length;

function priceOf({ prices }: TriedSlot): { amount: number; currency: string } | Withheld {
  const [price, ...others] = prices;
  if (price === undefined) return { code: 'no-price' };
  if (others.length > 0)
    return {
      code: 'prices-differ',
      prices: prices.map(({ amount, currency }) => `${amount.toFixed()} ${currency}`),
    };
  return { amount: price.amount.toNumber(), currency: price.currency };
}

function wasteForecast(
  side: TriedSide,
  fit: Fit | null,
  slots: readonly (string | null)[],
  mix: Mix,
  perYear: number | null,
  allowed: boolean,
): WasteForecast {
  const inAll = (kind: Kind): KindCoverage | null => {
    const each = slots.map((slot) => coverageOf(kind, slot));
    if (each.includes(null)) return null;
    // One coverage for all slots is off by the same in each; the others may be too.
    return {
      value: each.reduce((sum, one) => sum + (one?.value ?? 0), 0),
      u: each.reduce((sum, one) => sum + (one?.u ?? 0), 0),
    };
  };
  const read = readMix(fit, side.waste, mix, inAll, allowed);
  if ('why' in read || fit === null) {
    const why: Withheld = 'why' in read ? read.why : { code: 'no-line', coverages: [] };
    const coverage = 'why' in read ? read.coverage : null;
    return { coverage, beyond: null, waste: why, containersPerYear: perYear === null ? null : why };
  }
  const { usage, beyond } = read;
  const known = fit.freedom > 0;
  const [capacity, ...others] = side.capacities;
  const containers = (): Forecast => {
    if (capacity === undefined) return { code: 'no-capacity' };
    if (others.length > 0) return { code: 'capacities-differ', capacities: side.capacities };
    return estimateOf(((perYear ?? 0) * usage.mass) / 1000 / capacity, usage.parts, known);
  };
  return {
    coverage: usage.coverage,
    beyond,
    waste: estimateOf(usage.mass, usage.parts, known),
    containersPerYear: perYear === null ? null : containers(),
  };
}

/** The cost of all slots together; where one is missing there is none. */
function totalOf(slots: readonly SlotResult[], year: boolean): NonNullable<SideResult['total']> {
  const summed = (cost: (of: SlotForecast) => Forecast | null): Forecast => {
    const costs = slots.map(({ slot, mix }) => ({ slot, cost: (mix && cost(mix)) ?? NOT_THERE }));
    const missing = costs.filter((one) => !isForecast(one.cost)).map(({ slot }) => slot);
    if (missing.length > 0) return { code: 'slot-missing', slots: missing };
    return sumOf(costs.flatMap((one) => (isForecast(one.cost) ? [one.cost] : [])));
  };
  const currencies = [...new Set(slots.flatMap(({ mix }) => mix?.currency ?? []))];
  if (currencies.length > 1) {
    const why: Withheld = { code: 'prices-differ', prices: currencies };
    return { currency: null, costPerThousand: why, costPerYear: year ? why : null };
  }
  return {
    currency: currencies[0] ?? null,
    costPerThousand: summed((of) => of.costPerThousand),
    costPerYear: year ? summed((of) => of.costPerYear) : null,
  };
}

const NOT_THERE: Withheld = { code: 'no-price' };

/**
 * A sum of forecasts. What they have in common (the coverage of the mix, the machine, the scale) is not told apart from
 * what they have not: the uncertainties are added up, which is never too little.
 */
function sumOf(terms: readonly Estimate[]): Estimate {
  const total = (of: (term: Estimate) => number): number => terms.reduce((sum, term) => sum + of(term), 0);
  const value = total((term) => term.value);
  const freedom = Math.min(...terms.map((term) => term.freedom));
  const intervals = terms.flatMap(({ interval }) => interval ?? []);
  return {
    value,
    u: total((term) => term.u),
    U: total((term) => term.U),
    freedom,
    interval:
      intervals.length < terms.length
        ? null
        : {
            lower: intervals.reduce((sum, { lower }) => sum + lower, 0),
            upper: intervals.reduce((sum, { upper }) => sum + upper, 0),
          },
  };
}
