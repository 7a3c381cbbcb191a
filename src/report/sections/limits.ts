import { isNear } from '../../checks/near-limits.ts';
import { budgetOf } from '../../figures/budget.ts';
import { isDerived } from '../../figures/figure.ts';
import type { Assessed } from '../../judge/assess.ts';
import type { Judged } from '../../judge/judge.ts';
import { count } from '../../output/ground-words.ts';
import { reasonWords, wouldDecide } from '../../output/reason-words.ts';
import { type Block, heading, type LimitRow, paragraph, type Section } from '../content.ts';
import { agreedText, amount, distanceText, subject } from '../figure-words.ts';
import { byHowFar } from '../how-far.ts';
import { isCropped, scaleOf, smallStrip } from '../pictures/strip.ts';
import { tick } from '../pictures/draw.ts';
import { withoutKeys } from '../plain-names.ts';
import { ifRepeated, judgedValue } from '../values.ts';

/**
 * Every limit beside its figure: what is missed first, the furthest first; what cannot be decided; what is closer
 * to its limit than its uncertainty; then all that is kept.
 */
export function limits(result: Assessed): Section {
  const { judged, agreed } = result;
  const title = 'What was agreed, and what came out';
  if (judged.length === 0) return { title, blocks: [paragraph('No limit was agreed.')] };
  const of = (outcome: Judged['outcome']): Judged[] => judged.filter((one) => one.outcome === outcome);
  const near = of('met').filter(agreed.decision.rule === 'simple' ? isNear : () => false);
  const kept = of('met').filter((one) => !near.includes(one));
  const rows = (some: readonly Judged[]): LimitRow[] => some.map((one) => rowOf(one, result));
  const group = (word: string, some: readonly Judged[]): Block[] =>
    some.length === 0
      ? []
      : [
          heading(`${word}: ${some.length} of ${judged.length}`),
          { kind: 'limits', rows: rows(some), folded: null },
        ];
  return {
    title,
    blocks: [
      ...group('Missed', of('missed').toSorted(byHowFar)),
      ...group('Not decided', of('open').toSorted(byHowFar)),
      ...group('Kept, but closer to the limit than the uncertainty', near.toSorted(byHowFar)),
      ...(kept.length === 0
        ? []
        : [
            ...(kept.length === judged.length ? [] : [heading(`Kept: ${kept.length} of ${judged.length}`)]),
            {
              kind: 'limits' as const,
              rows: rows(kept),
              folded: `${count(kept.length, 'limit')} kept: show ${kept.length === 1 ? 'it' : 'them'}`,
            },
          ]),
      paragraph(howToRead(result)),
    ],
  };
}

const EFFECT = {
  fails: '',
  voids: 'a condition of the trial',
  advises: 'advice only',
} as const;

function rowOf(one: Judged, { judged, agreed: { decision } }: Assessed): LimitRow {
  const { derived, outcome, reason, effect } = one;
  const scale = scaleOf(
    judged.filter(({ derived: other }) => other.figure === derived.figure && other.unit === derived.unit),
    decision,
  );
  return {
    outcome,
    name: subject(derived),
    value: judgedValue(one) ?? 'no value',
    agreed: agreedText(one),
    margin: distanceText(one),
    effect: EFFECT[effect],
    notes: [...(reason === null ? [] : [whyOpen(one)]), ...ifRepeated(one)],
    strip: smallStrip(one, decision, scale),
    scale: isCropped(scale)
      ? `strip from ${tick(Number(scale.low.toPrecision(2)))} to ${amount(tick(Number(scale.high.toPrecision(2))), derived.unit)}`
      : '',
  };
}

/** Why a limit is open, and which reading would decide it. */
function whyOpen({ reason, repeated, derived: { result } }: Judged): string {
  if (reason === null) return '';
  const largest = isDerived(result) ? (budgetOf(result)[0]?.input.path ?? null) : null;
  return `Why: ${withoutKeys(reasonWords(reason))}. What would decide it: ${withoutKeys(wouldDecide(reason, largest, repeated !== null))}`;
}

function howToRead({ judged, derived }: Assessed): string {
  const results = judged.flatMap(({ derived: { result } }) => (isDerived(result) ? [result] : []));
  const some = (bound: string): boolean => results.some((result) => result.bound === bound);
  const exact = results.some(({ u, bound }) => u.isZero() && bound === 'exact');
  return [
    'Shaded is what was agreed, an upright line the limit itself.',
    ...(results.some(({ u }) => !u.isZero())
      ? [
          `± is U = 2u, twice the standard uncertainty (JCGM 100), which holds about 95 % of a normal distribution${exact ? '; a figure without it follows from counts alone' : ''}.`,
        ]
      : []),
    ...(judged.some(({ repeated }) => repeated !== null)
      ? [
          'Where it is known how repeated trials scatter, ± is U if the trial is repeated, by Student’s t; warnings and guard bands rest on it.',
        ]
      : []),
    ...(some('at_least') ? ['Dots to the right: at least so much.'] : []),
    ...(some('at_most') ? ['Dots to the left: at most so much.'] : []),
    ...(judged.some(({ effect }) => effect !== 'fails')
      ? [
          'A condition that is missed makes the trial prove nothing; advice does not change the verdict; any other limit that is missed fails what was tried.',
        ]
      : ['A limit that is missed fails what was tried.']),
    ...(derived.length > 0
      ? ['The statement is about the figures and limits listed here, and no others.']
      : []),
  ].join(' ');
}
