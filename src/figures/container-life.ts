import type { Run } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { RunFigure } from './figure.ts';
import { pagesOf } from './pages.ts';
import { wasteMassOf } from './waste-mass.ts';

/** Waste a full container holds, in grams; one value for all containers of the run. */
function capacityOf(run: Run): Decimal {
  const path = [...run.path, 'waste_container', 'capacity'];
  const [first, ...others] = run.containers.flatMap(({ capacity }) => capacity ?? []);
  if (first === undefined) throw new NotDerived({ code: 'reading-missing', path });
  if (others.some((other) => !other.eq(first))) throw new NotDerived({ code: 'capacities-differ', path });
  return first;
}

export const containerLife: RunFigure = {
  name: 'container_life',
  title: 'waste container life',
  unit: 'page',
  per: 'trial',
  formula: {
    words: 'Pages after which a waste container is full, at the rate of this run.',
    symbols: 'pages × capacity / waste_mass',
  },
  source: 'proportion: the waste of the run, carried on to the capacity',
  derive: (run) => pagesOf(run).times(capacityOf(run)).over(wasteMassOf(run), 'waste_mass'),
};
