import { type Forecast, forecastFrom, isForecast, type SideResult } from '../../src/forecast/forecast.ts';
import type { Mix } from '../../src/forecast/mix.ts';
import { TriedStops } from '../../src/forecast/stops.ts';
import { Tried, type TriedPoint } from '../../src/forecast/tried.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import type { Random } from '../fuzz/random.ts';

/**
 * How often what comes next keeps to the interval it was forecast in, over simulated sets of trials in a machine of two
 * slots. Cartridges and runs scatter normally in proportion to what they take and leave, readings normally; the coverage
 * of a document is off by one unknown amount in all trials with it, and that of the mix by another (rectangular, within the
 * tolerance). It should be 95 of a hundred, or more.
 */
export interface Setting {
  readonly coverages: readonly number[];
  /** Cartridges of each slot, and runs, at each coverage. */
  readonly each: number;
  /** Standard deviation from one cartridge or run to the next, as a share of what it takes or leaves. */
  readonly scatter: number;
  /** Standard uncertainty of a reading, mg a page. */
  readonly readings: number;
  /** Half-width of the tolerance of every coverage, as a share of it. */
  readonly tolerance: number;
  /** Toner a page takes at least, in mg; 0 for none. */
  readonly floor: number;
}

/** mg a page at no coverage, for each percent, and at least. */
type Law = readonly [atNone: number, forEach: number, least: number];

const SLOTS = ['black', 'cyan'] as const;
/** g in a cartridge, and from one to the next. */
const [FILL, FILL_SD] = [420, 3];
const [PRICE, CAPACITY] = [60, 900];
/** About nine cartridges of each slot in a year. */
const PER_MONTH = 10_000;

/** Pages at two coverages within all that is tried, the same in both slots. */
const KINDS = [
  { name: 'letters', share: 0.7, coverage: 3 },
  { name: 'lists', share: 0.3, coverage: 8 },
] as const;

const massAt = ([atNone, forEach, least]: Law, coverage: number): number =>
  Math.max(least, atNone + forEach * coverage);

/** A coverage as it really is, where it is off by no more than the tolerance. */
const really = (coverage: number, { tolerance }: Setting, random: Random): number =>
  coverage * (1 + tolerance * (2 * random.next() - 1));

const uOf = (coverage: number, { tolerance }: Setting): number => (tolerance * coverage) / Math.sqrt(3);

/** Trials as they may come out; in each of them all that is printed has one coverage. */
function trials(laws: readonly Law[], ofWaste: Law, setting: Setting, random: Random): Tried {
  const { coverages, each, scatter, readings } = setting;
  const tried = new Tried();
  const { candidate } = tried;
  candidate.capacities.push(CAPACITY);
  for (const slot of SLOTS) candidate.slot(slot).prices.push({ amount: new Decimal(PRICE), currency: 'EUR' });
  for (const coverage of coverages) {
    const real = really(coverage, setting, random);
    const point = (law: Law, slots: number): TriedPoint => ({
      file: 't.yaml',
      coverage: slots * coverage,
      coverageU: slots * uOf(coverage, setting),
      mass: massAt(law, slots * real) * (1 + scatter * random.normal()) + readings * random.normal(),
      massU: readings,
      serial: null,
      source: {},
      shared: new Map(),
    });
    for (let nth = 0; nth < each; nth++) {
      for (const [index, slot] of SLOTS.entries()) {
        const { points, emptied } = candidate.slot(slot);
        points.push(point(laws[index] ?? ofWaste, 1));
        emptied.push({ mass: FILL + FILL_SD * random.normal(), u: 0.4 });
      }
      candidate.waste.push(point(ofWaste, SLOTS.length));
    }
  }
  return tried;
}

const mixOf = (setting: Setting): Mix => ({
  file: 'mix.yaml',
  name: null,
  countedBy: null,
  kinds: KINDS.map(({ name, share, coverage }) => ({
    name,
    share,
    coverages: new Map([[null, { value: coverage, u: uOf(coverage, setting) }]]),
  })),
});

/** Cartridges that so many pages take, the last of them in part; `next` gives the pages of one. */
function cartridgesFor(pages: number, next: () => number): number {
  let [left, taken] = [pages, 0];
  for (;;) {
    const printed = next();
    if (printed >= left) return taken + left / printed;
    [left, taken] = [left - printed, taken + 1];
  }
}

/** What comes next, by the names of what is forecast of it. */
function next(laws: readonly Law[], ofWaste: Law, setting: Setting, random: Random): Record<string, number> {
  const { scatter } = setting;
  const real = KINDS.map(({ share, coverage }) => ({ share, coverage: really(coverage, setting, random) }));
  const over = (law: Law, slots: number): number =>
    real.reduce((sum, { share, coverage }) => sum + share * massAt(law, slots * coverage), 0);
  const oneOf = (law: Law, slots: number): number => over(law, slots) * (1 + scatter * random.normal());
  const pagesOf = (law: Law): number => (1000 * (FILL + FILL_SD * random.normal())) / oneOf(law, 1);
  const years = laws.map((law) => cartridgesFor(12 * PER_MONTH, () => pagesOf(law)));
  const [law] = laws;
  const usage = law === undefined ? NaN : oneOf(law, 1);
  const pages = laws.map(pagesOf);
  const waste = oneOf(ofWaste, SLOTS.length);
  return {
    'toner a page': usage,
    'pages of a cartridge': pages[0] ?? NaN,
    'cost of a thousand pages': pages.reduce((sum, one) => sum + (1000 * PRICE) / one, 0),
    'cartridges a year': years[0] ?? NaN,
    'cost of a year': years.reduce((sum, one) => sum + PRICE * one, 0),
    'waste a page': waste,
    'containers a year': (12 * PER_MONTH * waste) / 1000 / CAPACITY,
  };
}

/** The forecasts under the names of what comes next. */
function forecasts({ slots, waste, total }: SideResult): Record<string, Forecast | null | undefined> {
  const mix = slots[0]?.mix;
  return {
    'toner a page': mix?.usage,
    'pages of a cartridge': mix?.yield,
    'cost of a thousand pages': total?.costPerThousand,
    'cartridges a year': mix?.cartridgesPerYear,
    'cost of a year': total?.costPerYear,
    'waste a page': waste.mix?.waste,
    'containers a year': waste.mix?.containersPerYear,
  };
}

export interface Rates {
  /** Shares of the sets in which what came next kept to its interval, of those that gave one. */
  readonly kept: ReadonlyMap<string, number>;
  /** The least share of sets that gave an interval: it may be too wide to be one. */
  readonly forecast: number;
  /** How often a floor was found for the toner of one slot. */
  readonly floors: number;
}

export function intervalRates(sets: number, random: Random, setting: Setting): Rates {
  const laws: readonly Law[] = [
    [6.5, 5.2, setting.floor],
    [4, 6, setting.floor],
  ];
  const ofWaste: Law = [3, 0.8, 0];
  const rule = { mix: mixOf(setting), pagesPerMonth: new Decimal(PER_MONTH), beyond: false };
  const [kept, there] = [new Map<string, number>(), new Map<string, number>()];
  const count = (of: Map<string, number>, name: string): unknown => of.set(name, (of.get(name) ?? 0) + 1);
  let floors = 0;
  for (let set = 0; set < sets; set++) {
    const { candidate } = forecastFrom(trials(laws, ofWaste, setting, random), new TriedStops(), rule);
    if (candidate.slots[0]?.fit?.floor) floors += 1;
    const real = next(laws, ofWaste, setting, random);
    for (const [name, found] of Object.entries(forecasts(candidate))) {
      const value = real[name];
      if (!found || !isForecast(found) || found.interval === null || value === undefined) continue;
      count(there, name);
      if (value >= found.interval.lower && value <= found.interval.upper) count(kept, name);
    }
  }
  const names = Object.keys(next(laws, ofWaste, setting, random));
  return {
    kept: new Map(names.map((name) => [name, (kept.get(name) ?? 0) / (there.get(name) ?? 0)])),
    forecast: Math.min(...names.map((name) => (there.get(name) ?? 0) / sets)),
    floors: floors / sets,
  };
}

export const SETTINGS: readonly Setting[] = [
  { coverages: [1.5, 5, 12], each: 2, scatter: 0.015, readings: 0.05, tolerance: 0, floor: 0 },
  { coverages: [1.5, 5, 12], each: 1, scatter: 0.015, readings: 0.05, tolerance: 0, floor: 0 },
  { coverages: [1.5, 12], each: 2, scatter: 0.03, readings: 0.05, tolerance: 0, floor: 0 },
  { coverages: [1.5, 5, 12], each: 3, scatter: 0.001, readings: 0.3, tolerance: 0, floor: 0 },
  { coverages: [1.5, 5, 12], each: 2, scatter: 0.015, readings: 0.1, tolerance: 0.05, floor: 0 },
  { coverages: [1.5, 3, 5, 8, 12], each: 2, scatter: 0.02, readings: 0.1, tolerance: 0.02, floor: 0 },
  { coverages: [1, 2, 4, 8, 12], each: 3, scatter: 0.015, readings: 0.1, tolerance: 0, floor: 22 },
];
