import { forecastFrom, isForecast } from '../../src/forecast/forecast.ts';
import type { Mix } from '../../src/forecast/mix.ts';
import { TriedStops } from '../../src/forecast/stops.ts';
import { Tried } from '../../src/forecast/tried.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import type { Random } from '../fuzz/random.ts';

/**
 * How often the next cartridge keeps to the interval it was forecast in, over simulated sets of trials: what it takes for
 * a page, how many pages it yields, and how many a year takes. Cartridges scatter normally in proportion to what they
 * take, readings normally; the coverage of a document is off by one unknown amount in all trials with it, and that of
 * the mix by another (rectangular, within the tolerance). It should be 95 of a hundred, or more.
 */
export interface Setting {
  readonly coverages: readonly number[];
  /** Cartridges at each coverage. */
  readonly each: number;
  /** Standard deviation of cartridges, as a share of what they take. */
  readonly scatter: number;
  /** Standard uncertainty of a reading, mg a page. */
  readonly readings: number;
  /** Half-width of the tolerance of every coverage, as a share of it. */
  readonly tolerance: number;
  /** mg a page, and no less; 0 for none. */
  readonly floor: number;
}

/** Toner a page at no coverage and for each percent, in mg; and in a cartridge, in g. */
const [AT_NONE, FOR_EACH, FILL, FILL_SD] = [6.5, 5.2, 420, 3];

/** A kind of page at two coverages within all that is tried. */
const KINDS = [
  { name: 'letters', share: 0.7, coverage: 3 },
  { name: 'lists', share: 0.3, coverage: 8 },
] as const;

export interface Rates {
  readonly usage: number;
  readonly yield: number;
  /** Of those forecast at all: an interval may be too wide to be one. */
  readonly forecast: number;
  /** How often a floor was found. */
  readonly floors: number;
}

export function intervalRates(sets: number, random: Random, setting: Setting): Rates {
  const { coverages, each, scatter, readings, tolerance, floor } = setting;
  const taken = (coverage: number): number => Math.max(floor, AT_NONE + FOR_EACH * coverage);
  let [usage, yielded, forecast, floors] = [0, 0, 0, 0];
  for (let set = 0; set < sets; set++) {
    const tried = new Tried();
    const slot = tried.candidate.slot('black');
    for (const coverage of coverages) {
      const real = coverage * (1 + tolerance * (2 * random.next() - 1));
      for (let nth = 0; nth < each; nth++) {
        const mass = taken(real) * (1 + scatter * random.normal()) + readings * random.normal();
        const coverageU = (tolerance * coverage) / Math.sqrt(3);
        slot.points.push({
          file: 't.yaml',
          coverage,
          coverageU,
          mass,
          massU: readings,
          serial: null,
          source: {},
          shared: new Map(),
        });
        slot.emptied.push({ mass: FILL + FILL_SD * random.normal(), u: 0.4 });
      }
    }
    const mix: Mix = {
      file: 'mix.yaml',
      name: null,
      countedBy: null,
      kinds: KINDS.map(({ name, share, coverage }) => ({
        name,
        share,
        coverages: new Map([[null, { value: coverage, u: (tolerance * coverage) / Math.sqrt(3) }]]),
      })),
    };
    const result = forecastFrom(tried, new TriedStops(), {
      mix,
      pagesPerMonth: new Decimal(2000),
      beyond: false,
    });
    const [found] = result.candidate.slots;
    const real = KINDS.reduce(
      (sum, { share, coverage }) => sum + share * taken(coverage * (1 + tolerance * (2 * random.next() - 1))),
      0,
    );
    const next = real * (1 + scatter * random.normal());
    const pages = (1000 * (FILL + FILL_SD * random.normal())) / next;
    if (found?.fit?.floor) floors += 1;
    const mixed = found?.mix;
    if (!mixed || !isForecast(mixed.usage) || !isForecast(mixed.yield)) continue;
    const [ofUsage, ofYield] = [mixed.usage.interval, mixed.yield.interval];
    if (ofUsage === null || ofYield === null) continue;
    forecast += 1;
    if (next >= ofUsage.lower && next <= ofUsage.upper) usage += 1;
    if (pages >= ofYield.lower && pages <= ofYield.upper) yielded += 1;
  }
  return {
    usage: usage / forecast,
    yield: yielded / forecast,
    forecast: forecast / sets,
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
