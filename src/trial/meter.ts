import { Decimal, ONE, ZERO } from '../uncertainty/decimal.ts';
import type { Path } from '../uncertainty/path.ts';
import type { Instruments } from './instruments.ts';
import type { Quantity } from './quantity.ts';
import type { RunData } from './schema/trial.ts';
import type { Meter } from './trial.ts';

export function meterOf(data: RunData['meter'], path: Path, instruments: Instruments): Meter {
  const at = [...path, 'meter'];
  return {
    start: instruments.read('meter', 'page', [...at, 'start'], data?.start),
    end: instruments.read('meter', 'page', [...at, 'end'], data?.end, unrolled(data, data?.end)),
    clicksPerPage: data?.clicks_per_page?.value ?? ONE,
    otherPages: data?.other_pages?.value ?? ZERO,
  };
}

/** What to add to a meter reading taken after the counter passed its last number. */
export function unrolled(meter: RunData['meter'], reading: Quantity | null | undefined): Decimal {
  const digits = meter?.digits;
  const start = meter?.start?.value;
  if (digits == null || start == null || reading == null || reading.value.gte(start)) return ZERO;
  return counterEnd(digits);
}

/** The first number a counter of so many digits cannot show. */
export const counterEnd = (digits: Quantity): Decimal => new Decimal(`1e${digits.value.toFixed()}`);

/** A meter reading counted on from the run's start, past the counter's end where it rolled over. */
export const counted = (meter: RunData['meter'], reading: Quantity): Decimal =>
  reading.value.plus(unrolled(meter, reading));
