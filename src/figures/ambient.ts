import type { AmbientReading, Run } from '../trial/trial.ts';
import type { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { need, type ReadAt } from './figure.ts';

/**
 * The readings of the air that a figure can be had from, each turned into that figure.
 *
 * @throws NotDerived `no-readings` where there is none
 */
export function fromAmbient(run: Run, from: (reading: AmbientReading) => Measured | null): readonly ReadAt[] {
  const values = run.ambient.flatMap((reading): ReadAt[] => {
    const measured = from(reading);
    return measured === null ? [] : [{ at: reading.at, measured }];
  });
  if (values.length === 0) throw new NotDerived({ code: 'no-readings', path: [...run.path, 'ambient'] });
  return values;
}

/** Temperature and humidity read together, where an entry has both. */
export function pair(reading: AmbientReading): { temperature: Measured; humidity: Measured } | null {
  if (reading.temperature === null || reading.humidity === null) return null;
  return { temperature: need(reading.temperature), humidity: need(reading.humidity) };
}
