import type { Trial } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { given } from './planned.ts';

/** Printing hours at the machine's rated speed. @throws NotDerived */
export function hoursFor({ data }: Trial, pages: Decimal): Decimal {
  const speed = given(data.machine?.rated_speed, 'machine', 'rated_speed').value;
  return pages.div(speed.times(60));
}

/** Days that so many printing hours take, the last one begun counted whole. @throws NotDerived */
export const daysFor = ({ data }: Trial, hours: Decimal): number =>
  hours
    .div(given(data.target?.hours_per_day, 'target', 'hours_per_day').value)
    .ceil()
    .toNumber();

const DAY_IN_MS = 86_400_000;

/** The day so many days after another, both YYYY-MM-DD; null beyond the year 9999. */
export function dayAfter(day: string, days: number): string | null {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number);
  const ms = Date.UTC(year, month - 1, date) + days * DAY_IN_MS;
  return ms < Date.UTC(10_000, 0) ? new Date(ms).toISOString().slice(0, 10) : null;
}
