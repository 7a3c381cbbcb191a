import type { Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { unlistedContainer } from './changes.ts';
import { need, type RunFigure } from './figure.ts';

/**
 * Waste collected during the run, in grams, over every container used.
 *
 * @throws NotDerived where a container was changed that is not listed: its waste is in none of the weighings
 */
export function wasteMassOf(run: Run): Measured {
  if (run.containers.length === 0) {
    throw new NotDerived({ code: 'reading-missing', path: [...run.path, 'waste_container'] });
  }
  if (unlistedContainer(run) !== null) throw new NotDerived({ code: 'container-changed' });
  return Measured.sum(run.containers.map(({ tare, final }) => need(final).minus(need(tare))));
}

export const wasteMass: RunFigure = {
  name: 'waste_mass',
  title: 'waste mass',
  unit: 'g',
  per: 'trial',
  formula: {
    words:
      'What the waste container weighs after the run, less what it weighed empty; of all containers together.',
    symbols: 'Σ (final − tare)',
  },
  source: 'difference of two weighings; common practice, no source',
  derive: wasteMassOf,
};
