import { besidePrinting } from '../figures/printing-times.ts';
import type { Reading, Run } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { exactly } from './numbers.ts';

/** Readings of the air that no limit judges, since nothing was printed then; null where there are none. */
export function asideWords(run: Run): string | null {
  const aside = besidePrinting(run);
  const said = [
    span(
      aside.map(({ temperature }) => temperature),
      '°C',
    ),
    span(
      aside.map(({ humidity }) => humidity),
      '%',
    ),
  ].filter((one) => one !== null);
  return said.length === 0 ? null : `Read while nothing was printed, and not judged: ${said.join(', ')}.`;
}

function span(readings: readonly (Reading | null)[], unit: string): string | null {
  const values = readings.flatMap((one) => one?.measured?.value ?? []);
  if (values.length === 0) return null;
  const [least, greatest] = [Decimal.min(...values), Decimal.max(...values)];
  return `${least.eq(greatest) ? '' : `${exactly(least)} to `}${exactly(greatest)} ${unit}`;
}
