import { BOUND_WORDS, fullDigits, percent } from '../output/numbers.ts';
import {
  aloneWords,
  BOUNDS_COVER,
  claimReason,
  falseAlarmWords,
  freedomWords,
  boundedWords,
  groupName,
  groupRemarks,
  poolRemarks,
  WITH_COVERAGE,
} from '../output/pool-words.ts';
import { reasonWords } from '../output/reason-words.ts';
import { count } from '../output/ground-words.ts';
import type { ForecastResult } from '../forecast/forecast.ts';
import type { PooledCartridge } from '../pool/cartridge.ts';
import { type Claim, type Group, TOLERANCE_SHARE } from '../pool/group.ts';
import type { Pooled } from '../pool/pooled.ts';
import type { Trend } from '../pool/trend.ts';
import { SIGNALS } from '../output/pool-text.ts';
import { byText } from '../trial/by-text.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { type Block, list, paragraph, type Report, type Section, table } from './content.ts';
import { probabilityPicture } from './pictures/probability.ts';
import { trendPicture } from './pictures/trend.ts';
import { yieldsPicture } from './pictures/yields.ts';
import type { Made } from './trial-report.ts';
import { forReaders } from './for-readers.ts';
import { textsIn } from './own-texts.ts';
import type { TrialInShort } from './in-short.ts';
import { pages, pooledScreen } from './pooled-screen.ts';
import { typeset } from './typeset.ts';
import { lotSection } from './sections/lot.ts';
import { cautions, digests, signatures } from './sections/closing.ts';
import { forecastSections } from './sections/forecast.ts';
import { named } from './values.ts';

/**
 * The report on several trials: each in short, their yields pooled, toner against coverage where they were tried at
 * several, and a figure followed over them.
 */
export function pooledReport(
  trials: readonly TrialInShort[],
  pooled: Pooled,
  groups: readonly (readonly [group: Group, cartridges: readonly PooledCartridge[]])[],
  forecast: ForecastResult | null,
  { inputs, letterhead, lot, shapedBy, tool }: Omit<Made, 'photos' | 'internal'>,
): Report {
  return {
    kind: 'Report of several trials',
    title: `${count(trials.length, 'trial')}: verdicts and pooled yields`,
    letterhead,
    id: letterhead?.id ?? null,
    tool,
    texts: [
      ...textsIn(trials),
      ...groups.flatMap(([, cartridges]) =>
        cartridges.flatMap(({ slot, serial, lot, machine, file }) =>
          textsIn([slot, serial, lot, machine, file]),
        ),
      ),
    ],
    headline: pooledScreen(trials, pooled, lot),
    sections: [
      ...(lot === null ? [] : [lotSection(lot)]),
      theTrials(trials),
      ...groups.map(([group, cartridges]) => groupSection(group, cartridges, pooled.referenceCoverage)),
      leftOut(pooled),
      ...(forecast === null ? [] : forecastSections(forecast)),
      ...(pooled.trend === null ? [] : [trendSection(pooled.trend)]),
      method(pooled),
      signatures(
        `What is signed: the report on ${count(trials.length, 'trial')}${letterhead?.id == null ? '' : `, ${letterhead.id}`}.`,
        letterhead?.authorisedBy ?? null,
      ),
      cautions(),
      digests(inputs, [], shapedBy),
    ],
  };
}

const theTrials = (trials: readonly TrialInShort[]): Section => ({
  title: 'The trials',
  blocks: [
    ...table(
      'Every trial in short',
      [
        { text: 'trial' },
        { text: 'began', whole: true },
        { text: 'verdict' },
        { text: 'pages', numeric: true },
        { text: 'waste per thousand', numeric: true },
        { text: 'least yield at reference', numeric: true },
      ],
      trials.map(({ title, day, verdict, pages, waste, leastYield }) => [
        title,
        day,
        verdict,
        pages,
        waste,
        leastYield,
      ]),
    ),
    ...list(
      trials
        .filter(({ verdict }) => verdict !== 'pass')
        .map(({ title, verdict, why }) => `${title}, ${verdict}: ${why}`),
    ),
  ],
});

function groupSection(group: Group, cartridges: readonly PooledCartridge[], coverage: Decimal): Section {
  const { n, atLeast, failed, machines } = group;
  const what = groupName(group);
  return {
    title: `Pooled yield${what === '' ? '' : ` of ${what}`}, at ${coverage.toFixed()} % coverage`,
    blocks: [
      paragraph(
        `${count(n, 'cartridge')} in ${machines === 0 ? 'machines not named' : count(machines, 'machine')}; ${atLeast === 0 ? 'all ran until exhausted' : `${atLeast} not exhausted, counted at the pages they printed`}; ${failed === 0 ? 'none failed' : `${failed} more failed, not in the mean`}.`,
      ),
      ...groupRemarks(group).map((remark) => paragraph(forReaders(remark))),
      ...belowClaim(group, cartridges),
      { kind: 'facts', pairs: groupFacts(group) },
      ...yieldsPicture(group, cartridges),
      ...probabilityPicture(group, cartridges),
      ...table(
        'Yield at reference of every cartridge',
        [
          { text: 'cartridge' },
          { text: 'lot' },
          { text: 'machine' },
          { text: 'trial' },
          { text: 'pages', numeric: true },
        ],
        cartridges
          .toSorted(byMachine)
          .map((one) => [
            one.serial ?? 'not named',
            one.lot ?? '',
            one.machine ?? '',
            one.file,
            one.failed ? 'failed' : `${one.exhausted ? '' : 'at least '}${typeset(one.pages.toFixed(0))}`,
          ]),
      ),
    ],
  };
}

/** Machine by machine, the greatest yield first. */
const byMachine = (a: PooledCartridge, b: PooledCartridge): number =>
  byText(a.machine ?? '', b.machine ?? '') || b.pages.cmp(a.pages);

function groupFacts(group: Group): [string, string[]][] {
  const { confidence, mean, sd, t, n, failed, claim, commonU } = group;
  const level = `${fullDigits(percent(confidence.level))} %`;
  const fact = (word: string, value: Decimal | null, more = ''): [string, string[]][] =>
    value === null ? [] : [[word, [`${pages(value)}${more}`]]];
  return [
    ...fact('mean', mean),
    ...fact(
      'standard deviation',
      sd,
      sd && mean && !mean.isZero() ? `, ${sd.div(mean).times(100).toFixed(1)} % of the mean` : '',
    ),
    ...fact(
      'lower bound',
      group.lowerBound,
      `; of the mean${aloneWords(group)}, ${confidence.tail} ${level}${t === null ? '' : ` (t ${t.toFixed(3)}, ${freedomWords(n - 1)})`}`,
    ),
    ...(group.lowerBound === null
      ? [['lower bound', ['needs two exhausted cartridges']] as [string, string[]]]
      : []),
    ...fact(
      'clustered lower bound',
      group.clusteredLowerBound,
      `; of the mean of the machines’ means${aloneWords(group)}`,
    ),
    ...(group.betweenMachineSd?.isZero()
      ? [
          ['between machines', ['not distinguishable from the scatter within a machine']] as [
            string,
            string[],
          ],
        ]
      : fact('between machines', group.betweenMachineSd, ', standard deviation')),
    ...fact('within a machine', group.withinMachineSd, ', standard deviation'),
    ...fact(
      'tolerance bound',
      group.toleranceBound,
      `, exceeded by ${percent(TOLERANCE_SHARE).toFixed()} % of cartridges with ${level} confidence; normal yields`,
    ),
    ...fact('over machines', group.toleranceOverMachines, ', the same, of any such machine'),
    ...fact('of any distribution', group.toleranceFree, ', the same, yields need not be normal'),
    ...(commonU && !commonU.isZero()
      ? [
          ...fact('coverage', commonU.times(2), ', ± U = 2u, the same in all trials'),
          ...fact('lower bound', group.withCommon.lower, `; ${WITH_COVERAGE}: a claim rests on this one`),
          ...fact('clustered lower bound', group.withCommon.clustered, `; ${WITH_COVERAGE}: and on this one`),
        ]
      : []),
    ...(group.failureUpperBound === null
      ? []
      : [
          [
            'failed',
            [
              `${failed} of ${n + failed}, up to ${percent(group.failureUpperBound).toFixed(0)} % of all (one-sided ${level})`,
            ],
          ] as [string, string[]],
        ]),
    ...(claim === null ? [] : [['claim', [claimWords(claim, group)]] as [string, string[]]]),
  ];
}

function claimWords(claim: Claim, group: Group): string {
  const said = { true: 'supported', false: 'not supported', null: 'not decidable yet' } as const;
  const reason = claimReason(group);
  return `${pages(claim.pages)}: ${said[`${claim.supported}`]}${reason === null ? '' : `. ${forReaders(reason)}`}`;
}

/** Cartridges below a claim that is supported nevertheless. */
function belowClaim({ claim }: Group, cartridges: readonly PooledCartridge[]): Block[] {
  if (claim?.supported !== true) return [];
  const below = cartridges.filter(
    ({ pages: own, failed, exhausted }) => !failed && exhausted && own.lt(claim.pages),
  );
  if (below.length === 0) return [];
  const named = below.slice(0, 3).map(({ serial, file, pages: own }) => `${serial ?? file} (${pages(own)})`);
  return [
    paragraph(
      `${count(below.length, 'cartridge')} yielded less than the claim: ${named.join(', ')}${below.length > 3 ? ' and others' : ''}. A claim is about the mean of all cartridges; single ones lie on both sides of the mean.`,
    ),
  ];
}

const leftOut = ({ leftOut: left, groups }: Pooled): Section => ({
  title: 'Left out',
  blocks: [
    ...(groups.length === 0 ? [paragraph('No cartridge could be pooled.')] : []),
    ...list(
      left.map(
        ({ file, name, reason }) => `${file}${name === null ? '' : `, ${name}`}: ${reasonWords(reason)}`,
      ),
    ),
  ],
});

function trendSection(trend: Trend): Section {
  const { figure, of, points, chart } = trend;
  const what = `${figure.replaceAll('_', ' ')}${of === null ? '' : ` of ${of}`}`;
  const greatest = Math.max(...points.map(({ value }) => Math.abs(value)));
  const places = Math.max(0, 4 - Math.floor(Math.log10(greatest || 1)));
  const rows = points.map(({ day, file, value, bound, charted }) => [
    file,
    day ?? 'no day',
    typeset(`${BOUND_WORDS[bound]}${value.toFixed(places)}`),
    charted?.signals.map((one) => SIGNALS[one]).join('; ') ?? '',
  ]);
  return {
    title: `Trend of ${what}`,
    blocks: [
      ...(chart === null
        ? [paragraph('A trend needs two trials that give the value, not only a bound.')]
        : [
            paragraph(
              'The trials in the order of their days, with control limits of individuals: centre ± 3 × mean moving range / 1.128.',
            ),
            paragraph(falseAlarmWords(chart.points.length)),
          ]),
      ...boundedWords(points).map(paragraph),
      ...trendPicture(trend),
      ...table(
        'Values and signals',
        [
          { text: 'trial' },
          { text: 'day', whole: true },
          { text: named(what, points[0]?.unit ?? ''), numeric: true },
          { text: 'signal' },
        ],
        rows,
      ),
    ],
  };
}

const method = (pooled: Pooled): Section => {
  const blocks: Block[] = [
    ...poolRemarks(pooled)
      .map(forReaders)
      .filter((remark) => remark !== '')
      .map(paragraph),
    paragraph(
      `Lower bound: mean − t·s/√n, the smaller of that of all cartridges and that of the exhausted ones alone. Clustered: the same over the machines’ means. ${BOUNDS_COVER}`,
    ),
  ];
  return { title: 'How the yields were pooled', blocks };
};
