import type { Against } from '../pool/against.ts';
import type { Apart, Group } from '../pool/group.ts';
import type { Pooled } from '../pool/pooled.ts';
import type { Trend } from '../pool/trend.ts';
import { type Cell, csv } from './csv.ts';
import { harmlessJson } from './harmless.ts';
import { digitsOrNull as digits, fullDigits, percent } from './numbers.ts';

/** Pooled yields, groups held against each other, and trends, for other programs: JSON and CSV. */

/** The format of pooled yields in JSON; raised when a consumer would have to change. */
const FORMAT = 1;

const keyOf = ({ inCommon }: Group, by: Apart): string | null => (inCommon?.by === by ? inCommon.key : null);

function groupData(group: Group) {
  const { claim, confidence } = group;
  return {
    slot: group.slot,
    lot: keyOf(group, 'lot'),
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

/** What is told beside of a group: what its cartridges have in common, and how it stands against the others. */
const besideData = (group: Group) => {
  const { trials, firstDay, lastDay, waste, cost } = group.inShort;
  return {
    supplier: keyOf(group, 'supplier'),
    machine: keyOf(group, 'machine'),
    month: keyOf(group, 'month'),
    trials,
    first_day: firstDay,
    last_day: lastDay,
    waste_per_thousand: digits(waste),
    cost_per_thousand: digits(cost?.perThousand),
    currency: cost?.currency ?? null,
    cost_bound: cost?.bound ?? null,
  };
};

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
  points: points.map(({ file, day, value, bound, charted }) => ({
    file,
    day,
    value: digits(value),
    moving_range: digits(charted?.range ?? null),
    signals: charted?.signals ?? [],
    bound,
  })),
});

/** For other programs: the groups, and beside them what was asked for. */
export function poolJson({ groups, against, trend }: Pooled, tool: string): string {
  const data = {
    format: FORMAT,
    tool,
    groups: groups.map((group) => ({
      ...groupData(group),
      ...(group.inCommon === null ? {} : besideData(group)),
    })),
    ...(against.length > 0 ? { against: against.map(againstData) } : {}),
    ...(trend ? { trend: trendData(trend) } : {}),
  };
  return `${harmlessJson(data, 2)}\n`;
}

/** A group a line, with all that is told of it. */
export const poolLines = ({ groups }: Pooled, tool: string): string =>
  groups
    .map((group) => ({ format: FORMAT, tool, ...groupData(group), ...besideData(group) }))
    .map((data) => `${harmlessJson(data)}\n`)
    .join('');

const rowOf = (group: Group) => {
  const { claim, ...data } = groupData(group);
  return {
    ...data,
    claim: claim?.pages ?? null,
    supported: claim?.supported ?? null,
    ...besideData(group),
  };
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
  ...['failure_upper_bound', 'claim', 'supported', 'supplier', 'machine', 'month', 'trials', 'first_day'],
  ...['last_day', 'waste_per_thousand', 'cost_per_thousand', 'currency', 'cost_bound'],
] as const;

const AGAINST_HEADS = [
  ...['slot', 'difference', 'difference_low', 'difference_high', 'ratio_low', 'ratio_high', 't'],
  ...['degrees_of_freedom', 'margin', 'p', 'equivalent'],
] as const;

/** A row for each group; of two groups held against each other, or of a trend, a row for each of their lines. */
export function poolCsv({ groups, against, trend }: Pooled): string {
  if (trend !== null) {
    return csv(
      ['file', 'day', 'value', 'moving_range', 'signals', 'bound'],
      trendData(trend).points.map((point): Cell[] => [
        point.file,
        point.day,
        point.value,
        point.moving_range,
        point.signals.join(' '),
        point.bound,
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
