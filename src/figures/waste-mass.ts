import type { Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { need, type RunFigure } from './figure.ts';

/** Waste collected during the run, in grams, over every container used. */
export function wasteMassOf(run: Run): Measured {
  if (run.containers.length === 0) {
    throw new NotDerived({ code: 'reading-missing', path: [...run.path, 'waste_container'] });
  }
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
  source: 'difference of two weighings',
  derive: wasteMassOf,
};
