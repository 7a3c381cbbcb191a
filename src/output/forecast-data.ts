import { type Fit, massAt, rangeOf } from '../forecast/fit.ts';
import {
  type Forecast,
  type ForecastResult,
  isForecast,
  type SideResult,
  type SlotForecast,
  type SlotResult,
} from '../forecast/forecast.ts';
import { type Cell, csv } from './csv.ts';
import { forecastRemarks, leftOutWords, withheldWords } from './forecast-words.ts';
import { harmlessJson } from './harmless.ts';
import type { ForecastData } from './schema/forecast.ts';
import { digitsOrNull as digits } from './numbers.ts';

/** Toner against coverage, and what a mix takes, for other programs: JSON and CSV. */

type SideData = NonNullable<ForecastData['reference']>;
type FitData = Omit<SideData['slots'][number], 'slot'>;
type MixData = NonNullable<SideData['mix']>[number];
type EstimateData = MixData['cost'];

/** The format of a forecast in JSON; raised when a consumer would have to change. */
const FORMAT = 1;

const root = (variance: number | undefined): string | null =>
  variance === undefined ? null : digits(Math.sqrt(variance));

/** A fit; every number null where there is none. m₀ in mg, m₁ in mg per percent of coverage. */
function fitData(fit: Fit | null): FitData {
  const line = fit?.line;
  const [least, greatest] = fit === null ? [null, null] : rangeOf(fit);
  return {
    m0: digits(line?.intercept),
    u_m0: root(line?.varIntercept),
    m1: digits(line?.slope),
    u_m1: root(line?.varSlope),
    r: line ? digits(line.covariance / Math.sqrt(line.varIntercept * line.varSlope)) : null,
    n: fit?.n ?? 0,
    dof: fit?.freedom ?? null,
    floor: digits(fit?.floor?.least),
    u_floor: root(fit?.floor?.variance),
    floor_below: digits(fit?.floor?.below),
    scatter: fit === null || fit.freedom < 1 ? null : digits(fit.scatter),
    coverage_least: digits(least),
    coverage_greatest: digits(greatest),
    lack_of_fit: fit?.lackOfFit
      ? {
          test: fit.lackOfFit.test,
          statistic: digits(fit.lackOfFit.statistic),
          dof: fit.lackOfFit.over,
          dof_within: fit.lackOfFit.under,
          p: digits(fit.lackOfFit.p),
        }
      : null,
    points: (fit?.levels ?? []).flatMap(({ points }) =>
      points.map((point) => ({
        file: point.file,
        coverage: digits(point.coverage),
        u_coverage: digits(point.coverageU),
        mass: digits(point.mass),
        u_mass: digits(point.massU),
        residual: fit && digits(point.mass - massAt(fit, point.coverage)),
      })),
    ),
  };
}

/** A forecast number with its interval; null where there is none. */
const estimateData = (one: Forecast | null): EstimateData =>
  one === null || !isForecast(one)
    ? null
    : {
        value: digits(one.value),
        u: digits(one.u),
        lower: digits(one.interval?.lower),
        upper: digits(one.interval?.upper),
      };

function slotMixData(slot: string | null, of: SlotForecast): MixData {
  const yielded = estimateData(of.yield);
  const whole = of.parts.reduce((sum, { variance }) => sum + variance, 0);
  return {
    slot,
    coverage: digits(of.coverage?.value),
    u_coverage: digits(of.coverage?.u),
    yield: yielded?.value ?? null,
    lower: yielded?.lower ?? null,
    upper: yielded?.upper ?? null,
    cost_per_thousand: estimateData(of.costPerThousand)?.value ?? null,
    u: yielded?.u ?? null,
    currency: of.currency,
    toner_per_page: estimateData(of.usage),
    cost: estimateData(of.costPerThousand),
    cartridges_per_year: estimateData(of.cartridgesPerYear),
    cost_per_year: estimateData(of.costPerYear),
    beyond: of.beyond && { share: digits(of.beyond.share), factor: digits(of.beyond.factor) },
    withheld: reasonOf([of.usage, of.yield, of.costPerThousand]),
    variance: of.parts.map(({ part, variance }) => ({ part, share: digits(variance / whole) })),
    next_trial: of.next && {
      coverage: digits(of.next.coverage),
      before: digits(of.next.before),
      after: digits(of.next.after),
    },
  };
}

/** Why the first of several is not forecast; null where all are. */
function reasonOf(forecasts: readonly Forecast[]): string | null {
  const [why] = forecasts.flatMap((one) => (isForecast(one) ? [] : [withheldWords(one)]));
  return why ?? null;
}

function sideData({ slots, waste, stopsPerYear, total }: SideResult): SideData {
  const mixed = slots.flatMap(({ slot, mix }) => (mix === null ? [] : [slotMixData(slot, mix)]));
  return {
    slots: slots.map(({ slot, fit }) => ({ slot, ...fitData(fit) })),
    mix: total === null ? null : mixed,
    waste: { ...fitData(waste.fit), mix: waste.mix && wasteData(waste.mix) },
    stops_per_year: estimateData(stopsPerYear),
    total: total && {
      currency: total.currency,
      cost_per_thousand: estimateData(total.costPerThousand),
      cost_per_year: estimateData(total.costPerYear),
    },
  };
}

const wasteData = (mix: NonNullable<SideResult['waste']['mix']>) => ({
  coverage: digits(mix.coverage?.value),
  waste_per_page: estimateData(mix.waste),
  containers_per_year: estimateData(mix.containersPerYear),
  withheld: reasonOf([mix.waste]),
});

/** For other programs: what the candidate took, and beside it the reference, the remarks and what was left out. */
export function forecastJson(result: ForecastResult, tool: string): string {
  const { candidate, reference, mix, pagesPerMonth, leftOut } = result;
  const data: ForecastData = {
    format: FORMAT,
    tool,
    ...sideData(candidate),
    reference: reference && sideData(reference),
    pages_per_month: pagesPerMonth,
    counted_by: mix?.countedBy ?? null,
    remarks: forecastRemarks(result),
    left_out: leftOut.map(leftOutWords),
  };
  return `${harmlessJson(data, 2)}\n`;
}

/** A row for every number: whose, of which slot, what, how much, in which unit. */
export function forecastCsv({ candidate, reference }: ForecastResult): string {
  const rows = [
    ...sideRows('candidate', candidate),
    ...(reference === null ? [] : sideRows('reference', reference)),
  ];
  return csv(['side', 'slot', 'item', 'value', 'u', 'lower', 'upper', 'unit'], rows);
}

function sideRows(side: string, { slots, waste, stopsPerYear, total }: SideResult): Cell[][] {
  const put = (slot: string | null, item: string, one: Forecast | null, unit: string): Cell[][] => {
    const data = estimateData(one);
    return data === null ? [] : [[side, slot, item, data.value, data.u, data.lower, data.upper, unit]];
  };
  return [
    ...slots.flatMap((one) => slotRows(side, one, put)),
    ...fitRows(side, 'waste', waste.fit),
    ...put(null, 'waste_per_page', waste.mix?.waste ?? null, 'mg'),
    ...put(null, 'containers_per_year', waste.mix?.containersPerYear ?? null, '1'),
    ...put(null, 'stops_per_year', stopsPerYear, '1'),
    ...put(null, 'cost_per_thousand', total?.costPerThousand ?? null, total?.currency ?? ''),
    ...put(null, 'cost_per_year', total?.costPerYear ?? null, total?.currency ?? ''),
  ];
}

type Put = (slot: string | null, item: string, one: Forecast | null, unit: string) => Cell[][];

function slotRows(side: string, { slot, fit, mix }: SlotResult, put: Put): Cell[][] {
  const money = mix?.currency ?? '';
  return [
    ...fitRows(side, slot, fit),
    ...put(slot, 'toner_per_page', mix?.usage ?? null, 'mg'),
    ...put(slot, 'yield', mix?.yield ?? null, 'page'),
    ...put(slot, 'cost_per_thousand', mix?.costPerThousand ?? null, money),
    ...put(slot, 'cartridges_per_year', mix?.cartridgesPerYear ?? null, '1'),
    ...put(slot, 'cost_per_year', mix?.costPerYear ?? null, money),
  ];
}

function fitRows(side: string, slot: string | null, fit: Fit | null): Cell[][] {
  if (fit === null) return [];
  const data = fitData(fit);
  return [
    [side, slot, 'm0', data.m0, data.u_m0, null, null, 'mg'],
    [side, slot, 'm1', data.m1, data.u_m1, null, null, 'mg/%'],
    ...(data.floor === null ? [] : [[side, slot, 'floor', data.floor, data.u_floor, null, null, 'mg']]),
    ...(data.scatter === null ? [] : [[side, slot, 'scatter', data.scatter, null, null, null, '1']]),
  ];
}
