import type { Against } from '../pool/against.ts';
import type { Group } from '../pool/group.ts';
import type { Pooled } from '../pool/pooled.ts';
import type { Trend } from '../pool/trend.ts';
import { type Cell, csv } from './csv.ts';
import { harmlessJson } from './harmless.ts';
import { digitsOrNull as digits, fullDigits, percent } from './numbers.ts';

/** Pooled yields, groups held against each other, and trends, for other programs: JSON and CSV. */

function groupData(group: Group) {
  const { claim, confidence } = group;
  return {
    slot: group.slot,
    lot: group.lot,
    n: group.n,
    at_least: group.atLeast,
    failed: group.failed,
    machines: group.machines,
    mean: digits(group.mean),
    sd: digits(group.sd),
    t: digits(group.t),
    confidence: fullDigits(percent(confidence.level)),
    tail: confidence.tail,
    lower_bound: digits(group.lowerBound),
    clustered_lower_bound: digits(group.clusteredLowerBound),
    between_machine_sd: digits(group.betweenMachineSd),
    within_machine_sd: digits(group.withinMachineSd),
    common_u: digits(group.commonU),
    tolerance_bound: digits(group.toleranceBound),
    failure_upper_bound: digits(group.failureUpperBound),
    claim: claim && { pages: fullDigits(claim.pages), supported: claim.supported },
  };
}

const againstData = ({ slot, first, second, comparison, margin, p, equivalent }: Against) => ({
  slot,
  n: [first?.n ?? 0, second?.n ?? 0],
  means: [digits(first?.mean ?? null), digits(second?.mean ?? null)],
  difference: digits(comparison?.difference ?? null),
  difference_low: digits(comparison?.interval.low ?? null),
  difference_high: digits(comparison?.interval.high ?? null),
  ratio_low: digits(comparison?.ratio?.low ?? null),
  ratio_high: digits(comparison?.ratio?.high ?? null),
  t: digits(comparison?.t ?? null),
  degrees_of_freedom: digits(comparison?.freedom ?? null),
  margin: digits(margin),
  p: digits(p),
  equivalent,
});

const trendData = ({ figure, of, points, chart }: Trend) => ({
  figure,
  of,
  centre: digits(chart?.centre ?? null),
  lower: digits(chart?.lower ?? null),
  upper: digits(chart?.upper ?? null),
  mean_moving_range: digits(chart?.meanRange ?? null),
  moving_range_upper: digits(chart?.rangeUpper ?? null),
  points: points.map(({ file, day, value }, index) => ({
    file,
    day,
    value: digits(value),
    moving_range: digits(chart?.points[index]?.range ?? null),
    signals: chart?.points[index]?.signals ?? [],
  })),
});

/** For other programs: the groups, and beside them what was asked for. */
export function poolJson({ groups, against, trend }: Pooled): string {
  const data = {
    groups: groups.map(groupData),
    ...(against.length > 0 ? { against: against.map(againstData) } : {}),
    ...(trend ? { trend: trendData(trend) } : {}),
  };
  return `${harmlessJson(data, 2)}\n`;
}

const rowOf = (group: Group) => {
  const { claim, ...data } = groupData(group);
  return { ...data, claim: claim?.pages ?? null, supported: claim?.supported ?? null };
};

/** The heads of a row for a group, whether or not there is one. */
const GROUP_HEADS = [
  ...[
    'slot',
    'lot',
    'n',
    'at_least',
    'failed',
    'machines',
    'mean',
    'sd',
    't',
    'confidence',
    'tail',
    'lower_bound',
  ],
  ...['clustered_lower_bound', 'between_machine_sd', 'within_machine_sd', 'common_u', 'tolerance_bound'],
  ...['failure_upper_bound', 'claim', 'supported'],
] as const;

const AGAINST_HEADS = [
  ...['slot', 'difference', 'difference_low', 'difference_high', 'ratio_low', 'ratio_high', 't'],
  ...['degrees_of_freedom', 'margin', 'p', 'equivalent'],
] as const;

/** A row for each group; of two groups held against each other, or of a trend, a row for each of their lines. */
export function poolCsv({ groups, against, trend }: Pooled): string {
  if (trend !== null) {
    return csv(
      ['file', 'day', 'value', 'moving_range', 'signals'],
      trendData(trend).points.map((point): Cell[] => [
        point.file,
        point.day,
        point.value,
        point.moving_range,
        point.signals.join(' '),
      ]),
    );
  }
  const pick = (heads: readonly string[], row: Readonly<Record<string, unknown>>): Cell[] =>
    heads.map((head) => row[head] as Cell);
  if (against.length > 0) {
    return csv(
      AGAINST_HEADS,
      against.map((one) => pick(AGAINST_HEADS, againstData(one))),
    );
  }
  return csv(
    GROUP_HEADS,
    groups.map((group) => pick(GROUP_HEADS, rowOf(group))),
  );
}
