import type { Trial } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';

/** Common practice, no source. */
const SHEETS_IN_A_REAM = 500;

/** Paper to have beyond the need, in percent, unless the file says otherwise. */
const SPARE = new Decimal(2);

export const spareOf = ({ data }: Trial): Decimal => data.target?.spare_paper?.value ?? SPARE;

/** Reams to have for so many runs: for the sheets of the run, a sheet for every control page, and the spare, rounded up. */
export function reamsFor(trial: Trial, sheets: Decimal, runs = 1): number {
  const control = trial.data.target?.control_pages?.value ?? 0;
  const spare = spareOf(trial).div(100).plus(1);
  return sheets.plus(control).times(runs).times(spare).div(SHEETS_IN_A_REAM).ceil().toNumber();
}
