import { fullDigits, percent } from '../output/numbers.ts';
import { count } from '../output/ground-words.ts';
import {
  bothWords,
  claimReason,
  coverageDecides,
  groupName,
  groupRemarks,
  poolRemarks,
} from '../output/pool-words.ts';
import type { Claim, Group } from '../pool/group.ts';
import { TOLERANCE_SHARE } from '../pool/group.ts';
import type { Pooled } from '../pool/pooled.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import type { Fact, Headline, Picture } from './content.ts';
import { amount } from './figure-words.ts';
import type { TrialInShort } from './in-short.ts';
import { forReaders } from './for-readers.ts';
import type { LotSaid } from './lot-said.ts';
import { lotFact, lotAnswer } from './sections/lot.ts';
import { claimStrip } from './pictures/strip.ts';
import { typeset } from './typeset.ts';

/** The first screen of a report on several trials: the claim, whether it holds, and why. */

const COVERS =
  'This speaks of the cartridges tried, in these machines and this air. It is no promise about every cartridge of a lot.';

export const pages = (value: Decimal): string => amount(value.toFixed(0), 'page');

/** The lower bound that a claim rests on: the smaller of those there are, with what all trials share in it. */
export const boundOf = ({ withCommon: { lower, clustered } }: Group): Decimal | null =>
  lower && clustered ? Decimal.min(lower, clustered) : lower;

/** The bound of the cartridges alone, over the machines where that is the smaller. */
const aloneOf = ({ lowerBound, clusteredLowerBound }: Group): Decimal | null =>
  lowerBound && clusteredLowerBound ? Decimal.min(lowerBound, clusteredLowerBound) : lowerBound;

const boundsSaid = (group: Group, bound: Decimal): string =>
  bothWords(group, pages(bound), pages(aloneOf(group) ?? bound));

/** Of several groups the one whose claim stands worst decides what is said first. */
const RANK = { false: 0, null: 1, true: 2 } as const;
const rank = ({ claim }: Group): number => (claim === null ? 3 : RANK[`${claim.supported}`]);

export function pooledScreen(trials: readonly TrialInShort[], pooled: Pooled, lot: LotSaid | null): Headline {
  const { groups } = pooled;
  const [group] = groups.toSorted((a, b) => rank(a) - rank(b));
  const of = (verdict: TrialInShort['verdict']): number =>
    trials.filter((one) => one.verdict === verdict).length;
  const caveats = [
    ...groups.flatMap((one) =>
      groupRemarks(one).map((remark) => (groups.length > 1 ? `${groupName(one)}: ${remark}` : remark)),
    ),
    ...poolRemarks(pooled),
  ];
  const verdicts = [`${of('pass')} passed`, `${of('fail')} failed`, `${of('inconclusive')} inconclusive`];
  const judged = lot !== null && 'judged' in lot ? lot.judged : null;
  const facts: Fact[] = [
    judged === null
      ? { word: 'Trials', said: String(trials.length), beside: verdicts.join(', ') }
      : lotFact(judged),
  ];
  if (group === undefined) {
    return {
      ...(judged === null
        ? {
            verdict: null,
            word: `${count(trials.length, 'trial')}.`,
            said: 'No cartridge could be pooled.',
            more: [],
          }
        : lotAnswer(judged)),
      strip: null,
      facts,
      caveats: caveats.map(typeset),
      covers: COVERS,
    };
  }
  const { claim } = group;
  return {
    ...(claim !== null
      ? onClaim(claim, group)
      : judged === null
        ? withoutClaim(group)
        : { ...lotAnswer(judged), strip: null }),
    facts: [...factsOf(group), ...facts],
    caveats: caveats.map(forReaders).filter((one) => one !== ''),
    covers: COVERS,
  };
}

type Answer = Pick<Headline, 'verdict' | 'word' | 'said' | 'more' | 'strip'>;

function withoutClaim(group: Group): Answer {
  const { mean, n, confidence } = group;
  const bound = boundOf(group);
  const of = groupName(group) === '' ? '' : ` of ${groupName(group)}`;
  const level = `${fullDigits(percent(confidence.level))} %`;
  return {
    verdict: null,
    word: mean === null ? 'No yield.' : `${pages(mean)}.`,
    said:
      mean === null
        ? `No yield${of} follows from these trials.`
        : `So much ${n === 1 ? 'one cartridge' : `${n} cartridges`}${of} yielded on average${bound === null ? '' : typeset(`; with ${level} confidence the mean is at least ${boundsSaid(group, bound)}`)}.`,
    more: bound === null && mean !== null ? ['A bound of the mean needs two exhausted cartridges.'] : [],
    strip: null,
  };
}

const ANSWER = {
  true: { verdict: 'pass', word: 'Supported.', outcome: 'met' },
  false: { verdict: 'fail', word: 'Not supported.', outcome: 'missed' },
  null: { verdict: 'inconclusive', word: 'Not decided.', outcome: 'open' },
} as const;

function onClaim(claim: Claim, group: Group): Answer {
  const { verdict, word, outcome } = ANSWER[`${claim.supported}`];
  const bound = boundOf(group);
  const of = groupName(group) === '' ? '' : ` for ${groupName(group)}`;
  const claimed = `${pages(claim.pages)}${of}`;
  const reason = claimReason(group);
  const strip: Picture | null =
    bound === null
      ? null
      : {
          kind: 'picture',
          title: 'Lower bound of the mean yield against the claim',
          alternative: `Lower bound of the mean ${pages(bound)}; to be claimed ${pages(claim.pages)}.`,
          key: '',
          svg: (id) =>
            claimStrip(bound.toNumber(), claim.pages.toNumber(), outcome, {
              id,
              title: 'Lower bound of the mean yield against the claim',
              alternative: `Lower bound of the mean ${pages(bound)}; to be claimed ${pages(claim.pages)}; ${word}`,
            }),
        };
  return {
    verdict,
    word,
    said: typeset(claimSaid(claim, group, claimed, bound)),
    more: reason === null ? [] : [withoutSaid(forReaders(reason))].filter((one) => one !== ''),
    strip,
  };
}

/** What the heading has said already is not said again. */
const withoutSaid = (reason: string): string =>
  reason
    .split(/(?<=\.) /)
    .filter((sentence) => !sentence.startsWith('The cartridges alone support'))
    .join(' ');

function claimSaid(claim: Claim, group: Group, claimed: string, bound: Decimal | null): string {
  const { withCommon, mean, commonU } = group;
  if (claim.supported === true)
    return `${claimed} can be declared: the lower bound of the mean is ${bound === null ? 'not below it' : boundsSaid(group, bound)}.`;
  if (claim.supported === false)
    return `${claimed} is more than these cartridges yield: the upper bound of the mean is ${withCommon.upper === null ? 'below it' : pages(withCommon.upper)}.`;
  const alone = aloneOf(group);
  if (coverageDecides(group) !== null && commonU !== null && alone !== null) {
    return `${claimed} is not safe to declare yet: the cartridges alone support ${pages(alone)}, the coverage is uncertain by ± ${pages(commonU.times(2))}.`;
  }
  if (bound !== null)
    return `${claimed} is not safe to declare yet: the lower bound of the mean is ${boundsSaid(group, bound)}.`;
  return `${claimed} is not safe to declare yet: ${mean === null ? 'no yield follows from these trials' : `the mean is ${pages(mean)}, and a bound needs two exhausted cartridges`}.`;
}

function factsOf(group: Group): Fact[] {
  const { mean, sd, n, atLeast, failed, machines, toleranceBound, confidence, failureUpperBound } = group;
  const level = `${fullDigits(percent(confidence.level))} %`;
  return [
    {
      word: 'Mean yield',
      said: mean === null ? 'not known' : pages(mean),
      beside:
        sd === null ? 'at reference coverage' : `standard deviation ${pages(sd)}, at reference coverage`,
    },
    {
      word: 'Tried',
      said: count(n + failed, 'cartridge'),
      beside: [
        machines === 0 ? 'machines not named' : count(machines, 'machine'),
        atLeast === 0 ? 'all sound ones exhausted' : `${atLeast} not exhausted`,
        `${failed} failed${failureUpperBound === null ? '' : ` (up to ${percent(failureUpperBound).toFixed(0)} % of all)`}`,
      ].join(', '),
    },
    {
      word: `${percent(TOLERANCE_SHARE).toFixed()} % of cartridges exceed`,
      said: toleranceBound === null ? 'not known' : pages(toleranceBound),
      beside: `with ${level} confidence`,
    },
  ];
}
