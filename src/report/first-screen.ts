import { isNear } from '../checks/near-limits.ts';
import { type Derived, isDerived } from '../figures/figure.ts';
import {
  type Alike,
  alikeInCoverage,
  alikeInTrial,
  type Group,
  groupsBetween,
} from '../figures/stretches.ts';
import type { Assessed } from '../judge/assess.ts';
import type { Judged } from '../judge/judge.ts';
import type { Decision } from '../judge/limits.ts';
import { caveatData } from '../output/caveats.ts';
import { closest, count, groundWords } from '../output/ground-words.ts';
import { limitText } from '../output/text-limits.ts';
import { reasonWords } from '../output/reason-words.ts';
import { isUnderWay } from '../plan/progress.ts';
import type { Time } from '../trial/time.ts';
import type { Run } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { ifDerived } from '../uncertainty/not-derived.ts';
import type { Fact, Headline, Picture } from './content.ts';
import { againstAgreed, agreedText, amount, clause, subject } from './figure-words.ts';
import { byHowFar } from './how-far.ts';
import { withoutKeys } from './plain-names.ts';
import { largeStrip } from './pictures/strip.ts';
import { typeset } from './typeset.ts';
import { judgedValue, valueOfFigure, withUnit } from './values.ts';

/** The first screen of a report on one trial: the verdict with its number, and what it takes to rely on it. */

const WORDS = { pass: 'Pass.', fail: 'Fail.', inconclusive: 'Inconclusive.' } as const;

const SPEAKS_OF_SAMPLE =
  'This speaks of the sample tried, in this machine and this air. It is no promise about every cartridge of a lot.';

const UNDER_WAY = 'The run is under way: its end is not read yet, and this is how it stands so far.';

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

interface Answer {
  readonly said: string;
  readonly more: readonly string[];
  /** The limit that decides; null where none does. */
  readonly about: Judged | null;
}

export function firstScreen(result: Assessed): Headline {
  const { verdict, agreed } = result;
  const { said, more, about } = answer(result);
  return {
    verdict,
    word: WORDS[verdict],
    said,
    more: isUnderWay(result.trial) ? [UNDER_WAY, ...more] : more,
    strip: about === null ? null : stripOf(about, agreed.decision),
    facts: factsOf(result),
    caveats: caveatData(result).map(({ message }) => capital(typeset(withoutKeys(message)))),
    covers: SPEAKS_OF_SAMPLE,
  };
}

function answer(result: Assessed): Answer {
  const { ground, judged } = result;
  const of = (outcome: Judged['outcome'], effects: readonly Judged['effect'][]): Judged[] =>
    judged.filter((one) => one.outcome === outcome && effects.includes(one.effect)).toSorted(byHowFar);
  switch (ground) {
    case 'voids-missed': {
      const all = of('missed', ['voids']);
      const [worst = null] = all;
      return {
        said: `The trial proves nothing. ${worst === null ? '' : againstAgreed(worst)}`,
        more: [...others(all.length, 'condition', 'was not kept', 'were not kept')],
        about: worst,
      };
    }
    case 'fails-missed': {
      const all = of('missed', ['fails']);
      const [worst = null] = all;
      return {
        said: worst === null ? '' : againstAgreed(worst),
        more: others(all.length, 'limit', 'is missed', 'are missed'),
        about: worst,
      };
    }
    case 'open': {
      const all = of('open', ['fails', 'voids']);
      const about = all.find(({ derived }) => isDerived(derived.result)) ?? all[0] ?? null;
      return {
        said: about === null ? '' : openWords(about),
        more: [
          ...(about?.reason == null ? [] : [`${capital(withoutKeys(reasonWords(about.reason)))}.`]),
          ...others(all.length, 'limit', 'cannot be decided', 'cannot be decided'),
        ],
        about: about !== null && isDerived(about.derived.result) ? about : null,
      };
    }
    case 'all-met':
    case 'caveats': {
      const near = closest(judged);
      const said =
        near === null
          ? 'Every limit that counts is kept.'
          : `Closest to its limit: ${clause(near)}; ${agreedText(near)} was agreed.`;
      const strictly = ground === 'caveats' ? [groundWords(result)] : [];
      return { said, more: strictly, about: near };
    }
    case 'unspoken-finding':
    case 'unspoken-failure':
    case 'short-of-target':
    case 'no-fails-limit':
      return { said: groundWords(result), more: [], about: null };
  }
}

/** How many more there are like the one in the heading. */
const others = (all: number, one: string, is: string, are: string): string[] =>
  all < 2 ? [] : [`${count(all - 1, `more ${one}`)} ${all === 2 ? is : are}.`];

/** A limit that cannot be decided, with what is known. */
const openWords = (one: Judged): string =>
  isDerived(one.derived.result)
    ? `${capital(clause(one))}; whether it keeps to ${agreedText(one)} cannot be told.`
    : `${capital(subject(one.derived))} is not known; ${agreedText(one)} was agreed.`;

function stripOf(judged: Judged, decision: Decision): Picture {
  const { derived, outcome } = judged;
  const value = judgedValue(judged) ?? 'no value';
  return {
    kind: 'picture',
    title: capital(subject(derived)),
    alternative: `${capital(subject(derived))}: ${value}, ${typeset(limitText(judged))} agreed, ${outcome}.`,
    key: '',
    svg: (id) =>
      largeStrip(judged, decision, {
        id,
        title: `${capital(subject(derived))} against its limit`,
        alternative: `${value}; ${agreedText(judged)} was agreed; ${outcome}.`,
      }),
  };
}

function factsOf(result: Assessed): Fact[] {
  return [yieldFact(result), keptFact(result), triedFact(result), nearFact(result)];
}

const OUTCOME = { met: 'kept', missed: 'missed', open: 'not decided' } as const;

/** The least yield against what was agreed of it. */
function yieldFact(result: Assessed): Fact {
  const { judged, derived } = result;
  const word = 'Yield';
  const own = judged
    .filter(({ derived: { figure } }) => figure.name === 'yield_at_reference')
    .toSorted(byHowFar)[0];
  if (own !== undefined) {
    const { derived: of } = own;
    const said = judgedValue(own) ?? 'not derived';
    const part = of.of ?? (of.stat === null ? null : 'the least of all');
    return {
      word,
      said,
      beside: [
        `${part === null ? '' : `${part}, `}${agreedText(own)} agreed: ${OUTCOME[own.outcome]}`,
        ...printedFor(result, of),
      ].join('; '),
    };
  }
  const least = valueOfFigure(derived, 'yield_at_reference', null, 'least') ?? null;
  return {
    word,
    said: least === null ? 'not derived' : withUnit(least),
    beside: [
      least === null ? 'no limit was agreed' : 'the least, at reference coverage; no limit was agreed',
      ...(least === null ? [] : printedFor(result, least)),
    ].join('; '),
  };
}

/** What a cartridge printed where its yield at reference counts pages of several coverages, or of another job. */
function printedFor({ trial: { run }, derived, agreed }: Assessed, of: Derived): string[] {
  const value = isDerived(of.result) ? of.result.value : null;
  const same = derived.find(
    ({ figure, of: name, result }) =>
      figure === of.figure && name !== null && isDerived(result) && value !== null && result.value.eq(value),
  );
  const name = of.of ?? same?.of ?? null;
  const cartridge = run.cartridges.find((one) => one.name === name);
  const pages = valueOfFigure(derived, 'yield', name);
  if (cartridge === undefined || pages === null) return [];
  const kinds = (alike: Alike): readonly Group[] =>
    ifDerived(() => groupsBetween(run, cartridge.from, cartridge.to, alike)) ?? [];
  const other = kinds(alikeInTrial).find(({ first }) => first.other);
  if (other === undefined && kinds(alikeInCoverage(cartridge.slot)).length < 2) return [];
  const others = other === undefined ? '' : `, ${inPages(other.clicks.value, run)} of them not of the trial`;
  return [
    typeset(
      `counted at ${agreed.referenceCoverage.toFixed()} % coverage; printed ${amount(pages.result.value.toFixed(0), 'page')}${others}`,
    ),
  ];
}

const inPages = (clicks: Decimal, { meter }: Run): string => clicks.div(meter.clicksPerPage).toFixed(0);

function keptFact({ judged }: Assessed): Fact {
  const of = (outcome: Judged['outcome']): number => judged.filter((one) => one.outcome === outcome).length;
  const [met, missed, open] = [of('met'), of('missed'), of('open')];
  return {
    word: 'Limits kept',
    said: judged.length === 0 ? 'none agreed' : `${met} of ${judged.length}`,
    beside: judged.length === 0 ? 'nothing to keep to' : `${missed} missed, ${open} not decided`,
  };
}

function triedFact({ trial }: Assessed): Fact {
  const { run, data } = trial;
  const head = typeof data.trial === 'string' ? null : data.trial;
  const times = [
    head?.started,
    head?.finished,
    ...run.batches.flatMap(({ started, finished }) => [started, finished]),
  ].filter((time): time is Time => time != null);
  const days = daysOf(times);
  return {
    word: 'Tried',
    said: count(run.cartridges.length, 'cartridge'),
    beside: ['1 machine', ...(days === null ? ['days not recorded'] : [count(days, 'day')])].join(', '),
  };
}

/** Days from the first time to the last, both counted; null where there is only one or none. */
function daysOf(times: readonly Time[]): number | null {
  const days = times.map(({ text }) => Date.parse(`${text.slice(0, 10)}T00:00:00Z`) / 86_400_000);
  return days.length < 2 ? null : Math.max(...days) - Math.min(...days) + 1;
}

function nearFact({ judged, agreed }: Assessed): Fact {
  const near =
    agreed.decision.rule === 'simple'
      ? judged.filter(isNear)
      : judged.filter(({ reason }) => reason?.code === 'within-guard-band');
  const [first] = near;
  return {
    word: 'Closer to a limit than ±\u00a0U',
    said: near.length === 0 ? 'none' : count(near.length, 'limit'),
    beside:
      first === undefined
        ? 'U: coverage probability about 95 %'
        : `${subject(first.derived)}, ${judgedValue(first) ?? ''}${near.length > 1 ? ', and others' : ''}`,
  };
}
