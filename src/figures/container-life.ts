import type { Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { RunFigure } from './figure.ts';
import { pagesOf } from './pages.ts';
import { wasteOfTrial } from './waste-mass.ts';

/** Waste a full container holds, in grams; one value for all containers of the run. */
function capacityOf(run: Run): Measured {
  const path = [...run.path, 'waste_container', 'capacity'];
  const [first, ...others] = run.containers.flatMap(({ capacity, path: at }) =>
    capacity === null ? [] : [{ capacity, at }],
  );
  if (first === undefined) throw new NotDerived({ code: 'reading-missing', path });
  if (others.some(({ capacity }) => !capacity.eq(first.capacity)))
    throw new NotDerived({ code: 'capacities-differ', path });
  return Measured.exact(first.capacity, [...first.at, 'capacity']);
}

export const containerLife: RunFigure = {
  name: 'container_life',
  title: 'waste container life',
  unit: 'page',
  per: 'trial',
  formula: {
    words:
      'Pages after which a waste container is full, at the rate of the pages of this trial; waste of other batches counts as in waste_per_thousand.',
    symbols: 'pages × capacity / waste_mass',
    worked: ['pages × capacity / waste_mass', 'pages × capacity / waste_of_trial'],
  },
  source: 'proportion: the waste of the run, carried on to the capacity; common practice, no source',
  derive: (run) => pagesOf(run).times(capacityOf(run)).over(wasteOfTrial(run), 'waste_mass'),
};
