import type { Against } from '../pool/against.ts';
import { type Group, TOLERANCE_SHARE } from '../pool/group.ts';
import { byMeanYield, type Cost } from '../pool/league.ts';
import type { Pooled } from '../pool/pooled.ts';
import type { Trend } from '../pool/trend.ts';
import type { Signal } from '../statistics/control-chart.ts';
import { asDecimal, type Decimal } from '../uncertainty/decimal.ts';
import { padEnd, padStart, wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import { BOUND_WORDS, fullDigits, percent, tidy } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';
import { unitOf } from './text-figures.ts';
import { table } from './text-table.ts';
import {
  aloneWords,
  boundedWords,
  BOUNDS_COVER,
  claimReason,
  falseAlarmWords,
  freedomWords,
  groupRemarks,
  inCommonWords,
  poolRemarks,
  WITH_COVERAGE,
} from './pool-words.ts';
import { reasonWords } from './reason-words.ts';

/** Pooled yields, groups held against each other, and trends, in lines for people. */

const pages = (value: Decimal | null): string => (value === null ? 'not known' : `${value.toFixed(0)} page`);
const name = (slot: string | null): string => (slot === null ? '' : ` of ${slot}`);

function line(word: string, value: string, said = ''): string[] {
  return wrap(said, `  ${padEnd(word, 24)}${padStart(value, 14)}  `).map((one) => one.trimEnd());
}

/** For people. */
export function poolText(pooled: Pooled, paint: Paint = PLAIN): string {
  const { groups, leftOut, against, trend, referenceCoverage } = pooled;
  const lines = [
    ...groups.flatMap((group) => [...groupLines(group, referenceCoverage, paint), '']),
    ...leagueLines(pooled, paint),
    ...against.flatMap((one) => [...againstLines(one, groups[0]?.confidence.level ?? 0.9, paint), '']),
    ...(trend ? [...trendLines(trend, paint), ''] : []),
    ...(leftOut.length > 0 ? [paint.strong('LEFT OUT')] : []),
    ...leftOut.flatMap(({ file, name: of, reason }) =>
      wrap(harmless(`${file}${of === null ? '' : `, ${of}`}: ${reasonWords(reason)}`), '  ', '    '),
    ),
    ...(leftOut.length > 0 ? [''] : []),
    ...(groups.length === 0 ? ['No cartridge could be pooled.', ''] : []),
    ...poolRemarks(pooled).flatMap((one) => [...wrap(harmless(one)), '']),
    ...wrap(`This speaks of the cartridges tried. ${BOUNDS_COVER}`),
  ];
  return `${lines.join('\n')}\n`;
}

function groupLines(group: Group, coverage: Decimal, paint: Paint): string[] {
  const { n, atLeast, failed, machines, mean, sd, t, confidence, inCommon } = group;
  const level = `${fullDigits(percent(confidence.level))} %`;
  const how = `${confidence.tail} ${level}`;
  const cv = mean && sd && !mean.isZero() ? ` (${sd.div(mean).times(100).toFixed(1)} % of the mean)` : '';
  const fitted = n + failed;
  return [
    ...wrap(
      harmless(
        `POOLED YIELD${name(group.slot)}${inCommon === null ? '' : `, ${inCommonWords(inCommon)}`}, at ${coverage.toFixed()} % coverage`,
      ),
      '',
      '  ',
    ).map(paint.strong),
    ...wrap(
      n === 0
        ? `No cartridge is in the mean; ${failed === 0 ? 'none' : failed} failed.`
        : `${n} ${n === 1 ? 'cartridge' : 'cartridges'} in ${machines === 0 ? 'machines not named' : `${machines} ${machines === 1 ? 'machine' : 'machines'}`}; ${atLeast === 0 ? 'all exhausted' : `${atLeast} not exhausted, counted at the pages they printed`}; ${failed === 0 ? 'none failed' : `${failed} more failed, not in the mean`}.`,
      '  ',
    ),
    '',
    ...line('mean', pages(mean)),
    ...(sd ? line('standard deviation', pages(sd), cv.trim()) : []),
    ...(t === null ? [] : line("Student's t", t.toFixed(3), `${freedomWords(n - 1)}, ${how}`)),
    ...line(
      'lower bound',
      pages(group.lowerBound),
      group.lowerBound ? `${how}, of the mean${aloneWords(group)}` : 'needs two exhausted cartridges',
    ),
    ...(group.clusteredLowerBound
      ? line(
          'clustered lower bound',
          pages(group.clusteredLowerBound),
          `of the mean of the machines’ means, all ${n} cartridges in it${aloneWords(group)}`,
        )
      : []),
    ...(group.betweenMachineSd && group.withinMachineSd
      ? [
          ...line(
            'between machines',
            group.betweenMachineSd.isZero() ? 'none' : pages(group.betweenMachineSd),
            group.betweenMachineSd.isZero()
              ? 'not distinguishable from the scatter within a machine'
              : 'standard deviation',
          ),
          ...line('within a machine', pages(group.withinMachineSd), 'standard deviation'),
        ]
      : []),
    ...(group.toleranceBound
      ? line(
          'tolerance bound',
          pages(group.toleranceBound),
          `exceeded by ${percent(TOLERANCE_SHARE).toFixed()} % of cartridges, with ${level} confidence; normal yields`,
        )
      : []),
    ...(group.toleranceOverMachines
      ? line('over machines', pages(group.toleranceOverMachines), 'the same, of any such machine')
      : []),
    ...(group.toleranceFree
      ? line('of any distribution', pages(group.toleranceFree), 'the same, yields need not be normal')
      : []),
    ...(group.likelihood
      ? line(
          'likelihood estimate',
          `${group.likelihood.mean.toFixed(0)} page`,
          `mean, with deviation ${group.likelihood.sd.toFixed(0)}; shown beside, not decided on`,
        )
      : []),
    ...commonLines(group),
    ...(group.failureUpperBound === null
      ? []
      : line(
          'failed',
          `${failed} of ${fitted}`,
          `up to ${percent(group.failureUpperBound).toFixed(0)} % of all, one-sided ${level}`,
        )),
    ...groupRemarks(group).flatMap((one) => ['', ...wrap(harmless(one), '  ')]),
    ...claimLines(group, paint),
  ];
}

const costText = (cost: Cost | null): string =>
  cost === null ? '-' : `${cost.bound === 'exact' ? '' : '≤'}${cost.perThousand.toFixed(2)} ${cost.currency}`;

/** Groups of each slot beside each other, the greatest mean yield first; none of a single group. */
function leagueLines({ groups }: Pooled, paint: Paint): string[] {
  const slots = [...new Set(groups.map(({ slot }) => slot))];
  return slots.flatMap((slot) => {
    const ordered = byMeanYield(groups.filter((group) => group.slot === slot));
    const by = ordered[0]?.inCommon?.by;
    if (by === undefined) return [];
    const rows = ordered.map((group) => ({
      name: harmless(group.inCommon?.key ?? 'not named'),
      cells: [
        String(group.n),
        `${group.atLeast > 0 ? '≥' : ''}${group.mean?.toFixed(0) ?? '-'}`,
        group.lowerBound?.toFixed(0) ?? '-',
        group.inShort.waste?.toFixed(2) ?? '-',
        costText(group.inShort.cost),
        String(group.failed),
      ],
    }));
    return [
      ...wrap(harmless(`BY ${by.toUpperCase()}${name(slot)}, BY MEAN YIELD`), '', '  ').map(paint.strong),
      ...table(['n', 'mean', 'bound', 'waste', 'cost', 'failed'], rows, paint),
      '',
      ...wrap(
        'mean, bound: pages; bound: the lower bound of the mean. waste: g per thousand pages, mean of the trials. cost: of the cartridges, per thousand pages; what failed was paid for too.',
        '  ',
      ),
      '',
    ];
  });
}

/** The uncertainty that all trials share, and the bounds with it in them; none where there is none. */
function commonLines({ commonU, withCommon }: Group): string[] {
  if (!commonU || commonU.isZero()) return [];
  return [
    ...line('coverage', `± ${pages(commonU.times(2))}`, 'U = 2u, the same in all trials'),
    ...line('lower bound', pages(withCommon.lower), `${WITH_COVERAGE}: a claim rests on this one`),
    ...(withCommon.clustered
      ? line('clustered lower bound', pages(withCommon.clustered), `${WITH_COVERAGE}: and on this one`)
      : []),
  ];
}

function claimLines(group: Group, paint: Paint): string[] {
  const { claim } = group;
  if (claim === null) return [];
  const said = { true: 'supported', false: 'not supported', null: 'not decidable yet' } as const;
  const tone = { true: paint.good, false: paint.bad, null: paint.unsure } as const;
  const key = `${claim.supported}` as const;
  const reason = claimReason(group);
  return [
    '',
    tone[key](`  CLAIM of ${claim.pages.toFixed()} pages: ${said[key]}`),
    ...(reason === null ? [] : wrap(reason, '  ')),
  ];
}

const whole = (value: number): string => tidy(asDecimal(value).round());

function againstLines(
  { slot, by, first, second, unfinished, comparison, margin, p, equivalent }: Against,
  level: number,
  paint: Paint,
): string[] {
  const head = wrap(harmless(`GROUPS${name(slot)}`), '', '  ').map(paint.strong);
  if (unfinished > 0) {
    return [
      ...head,
      ...wrap(
        `Cannot be compared: ${unfinished} ${unfinished === 1 ? 'cartridge was' : 'cartridges were'} not run until exhausted. Leaving them out would favour the short yields.`,
        '  ',
      ),
    ];
  }
  if (first === null || second === null) {
    return by === 'machines'
      ? [
          ...head,
          ...wrap(
            'Two machines in each group are needed: cartridges of one machine are not independent.',
            '  ',
          ),
        ]
      : [...head, '  Two exhausted cartridges in each group are needed.'];
  }
  if (comparison === null) {
    return [
      ...head,
      ...wrap(
        `The means are ${whole(first.mean)} and ${whole(second.mean)} pages; without any scatter no interval follows.`,
        '  ',
      ),
    ];
  }
  const { interval, ratio, difference, freedom } = comparison;
  const confidence = `${fullDigits(percent(level))} %`;
  return [
    ...head,
    ...line('first', `${whole(first.mean)} page`, `mean of ${first.n} ${by}`),
    ...line('second', `${whole(second.mean)} page`, `mean of ${second.n} ${by}`),
    ...line(
      'difference',
      `${whole(difference)} page`,
      `${confidence} interval ${whole(interval.low)} to ${whole(interval.high)} (Welch, ${freedom.toFixed(1)} degrees)`,
    ),
    ...(ratio
      ? line(
          'ratio',
          (first.mean / second.mean).toFixed(3),
          `${confidence} interval ${ratio.low.toFixed(3)} to ${ratio.high.toFixed(3)} (Fieller)`,
        )
      : []),
    ...(margin === null || p === null
      ? []
      : wrap(
          equivalent
            ? `Shown equivalent within ${whole(margin)} pages (two one-sided tests, p ${p.toPrecision(2)}).`
            : `Not shown equivalent within ${whole(margin)} pages (two one-sided tests, p ${p.toPrecision(2)}).`,
          '  ',
        )),
  ];
}

/** What a control chart says of a point. */
export const SIGNALS: Readonly<Record<Signal, string>> = {
  'above-upper': 'above the upper limit',
  'below-lower': 'below the lower limit',
  'range-above-upper': 'moved too far',
  'run-of-eight': 'eighth in a row on one side',
};

function trendLines({ figure, of, points, chart }: Trend, paint: Paint): string[] {
  const unit = points[0]?.unit ?? '';
  const head = wrap(
    harmless(
      ['TREND of ' + figure + (of === null ? '' : ` of ${of}`), unitOf(unit)].filter(Boolean).join(', '),
    ),
    '',
    '  ',
  ).map(paint.strong);
  if (chart === null && points.every(({ bound }) => bound === 'exact'))
    return [...head, '  A trend needs two trials.'];
  const short = (value: number): string => asDecimal(value).toSignificantDigits(5).toFixed();
  const rows = points.map(({ day, file, value, bound, charted }) => {
    const range = charted?.range ?? null;
    return {
      name: harmless(`${day ?? 'no day'}  ${file.split('/').at(-1) ?? file}`),
      cells: [
        `${BOUND_WORDS[bound]}${short(value)}`,
        range === null ? '' : short(range),
        charted?.signals.map((one) => SIGNALS[one]).join('; ') ?? '',
      ],
    };
  });
  return [
    ...head,
    ...(chart === null
      ? ['  A trend needs two trials that give the value, not only a bound.']
      : [
          ...line('centre', short(chart.centre)),
          ...line(
            'control limits',
            `${short(chart.lower)} to ${short(chart.upper)}`,
            'individuals; mean moving range / 1.128 × 3',
          ),
        ]),
    '',
    ...table(['value', 'moved by', 'signal'], rows, paint),
    ...boundedWords(points).flatMap((one) => ['', ...wrap(one, '  ')]),
    ...(chart === null ? [] : ['', ...wrap(falseAlarmWords(chart.points.length), '  ')]),
  ];
}
