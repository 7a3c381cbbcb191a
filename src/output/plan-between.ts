import { meterAfter } from '../plan/checkpoints.ts';
import type { Plan } from '../plan/plan.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { CHANGE_CARE } from './cautions.ts';
import { wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import { tidy } from './numbers.ts';

/** What has to be changed or renewed before the run is over. */
export function betweenLines({ trial, changes, worn, lapsed, slots, pages }: Plan): string[] {
  const at = (done: Decimal): string => {
    const meter = meterAfter(trial, done);
    return meter === null ? `after ${tidy(done)} pages` : `at about meter ${meter.toFixed()}`;
  };
  const all = 'value' in pages ? pages.value : null;
  const ends = slots.flatMap(({ slot, pagesEach }) =>
    'value' in pagesEach && all?.gt(pagesEach.value)
      ? [
          `The cartridge${slot === null ? '' : ` of ${slot}`} is expected to be exhausted ${at(pagesEach.value.round())}.`,
        ]
      : [],
  );
  return [
    ...ends,
    ...changes.map(
      (done) => `The waste container is full ${at(done)}: weigh it, then fit an empty one that was weighed.`,
    ),
    ...(changes.length === 0 ? [] : [CHANGE_CARE]),
    ...worn.map(({ part, life, at: meter, before }) =>
      before
        ? `The ${part} is past its rated life of ${life.toFixed()} pages: replace it before the run.`
        : `The ${part} reaches its rated life of ${life.toFixed()} pages${meter === null ? '' : ` at meter ${meter.toFixed()}`}: replace it before the run.`,
    ),
    ...lapsed.map(
      ({ instrument, until, day }) =>
        `The calibration of the ${instrument} ends on ${until}, the run on ${day}: have it calibrated before.`,
    ),
  ].flatMap((one) => wrap(harmless(one), '  ', '    '));
}
