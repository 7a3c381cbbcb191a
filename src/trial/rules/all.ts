import { type Decimal, ZERO } from '../../uncertainty/decimal.ts';
import { counterEnd, unrolled } from '../meter.ts';
import type { Problem } from '../../problems/problem.ts';
import type { RunData, TrialData } from '../schema/trial.ts';
import { checkedRule } from './checked.ts';
import { cartridgeRules, slotRules } from './cartridges.ts';
import { borderRule, coverageRules, usageRules } from './coverage.ts';
import { batchRules, eventRules, meterRules } from './meter.ts';
import type { RunRule, TrialRule } from './rule.ts';
import { mixedTimesRule, runTimeRules } from './times.ts';
import { wasteRules } from './waste.ts';

const RUN_RULES: readonly RunRule[] = [
  meterRules,
  batchRules,
  eventRules,
  wasteRules,
  cartridgeRules,
  slotRules,
  coverageRules,
  usageRules,
  runTimeRules,
];

/** The meter ranges of candidate and reference may touch, not overlap. */
const runsApart: TrialRule = ({ meter, reference }) => {
  const mine = stretches(meter);
  const theirs = stretches(reference?.meter);
  const overlap = mine.some(([a, b]) => theirs.some(([c, d]) => a.lt(d) && c.lt(b)));
  return overlap ? [{ code: 'runs-overlap', path: ['reference', 'meter'] }] : [];
};

/** The stretches of the counter a run covers: one, or two where it rolled over. */
function stretches(meter: RunData['meter'] | undefined): [Decimal, Decimal][] {
  const { start, end, digits } = meter ?? {};
  if (!start || !end) return [];
  if (start.value.lte(end.value)) return [[start.value, end.value]];
  if (!digits || unrolled(meter ?? null, end).isZero()) return [];
  return [
    [start.value, counterEnd(digits)],
    [ZERO, end.value],
  ];
}

/** No more was sampled than the lot holds. */
const sampleWithinLot: TrialRule = ({ lot }) =>
  lot?.size && lot.sampled?.value.gt(lot.size.value)
    ? [
        {
          code: 'part-exceeds-whole',
          part: lot.sampled.text,
          whole: lot.size.text,
          wholeKey: 'size',
          path: ['lot', 'sampled'],
        },
      ]
    : [];

/** A patch is named once: its name tells its figures apart. */
const patchesOnce: TrialRule = ({ prints, reference }) =>
  (
    [
      [prints, []],
      [reference?.prints, ['reference']],
    ] as const
  ).flatMap(([measured, path]) => {
    const seen = new Set<string>();
    return (measured?.patches ?? []).flatMap(({ patch }, index): Problem[] => {
      if (seen.has(patch))
        return [{ code: 'patch-twice', patch, path: [...path, 'prints', 'patches', index, 'patch'] }];
      seen.add(patch);
      return [];
    });
  });

/** All prices of a trial are in one currency: they are added and compared. */
const oneCurrency: TrialRule = ({ cartridges, reference }) => {
  const prices = (
    [
      [cartridges, []],
      [reference?.cartridges, ['reference']],
    ] as const
  ).flatMap(([list, path]) =>
    (list ?? []).flatMap(({ price }, index) =>
      price ? [{ price, path: [...path, 'cartridges', index, 'price'] }] : [],
    ),
  );
  const first = prices[0]?.price.currency;
  const other = prices.find(({ price }) => price.currency !== first);
  if (first === undefined || other === undefined) return [];
  return [{ code: 'currencies-differ', written: other.price.currency, first, path: other.path }];
};

const TRIAL_RULES: readonly TrialRule[] = [
  mixedTimesRule,
  borderRule,
  runsApart,
  sampleWithinLot,
  patchesOnce,
  oneCurrency,
  checkedRule,
];

/** Everything that is wrong between the readings of a trial, in no particular order. */
export function checkTrial(trial: TrialData): Problem[] {
  const reference = trial.reference;
  return [
    ...RUN_RULES.flatMap((rule) => rule(trial, [], trial)),
    ...(reference ? RUN_RULES.flatMap((rule) => rule(reference, ['reference'], trial)) : []),
    ...TRIAL_RULES.flatMap((rule) => rule(trial)),
  ];
}
