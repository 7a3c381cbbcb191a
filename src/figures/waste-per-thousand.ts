import type { Run } from '../trial/trial.ts';
import type { Measured } from '../uncertainty/measured.ts';
import type { RunFigure } from './figure.ts';
import { pagesOf } from './pages.ts';
import { wasteMassOf } from './waste-mass.ts';

/** Waste of a run for every thousand pages, in grams. */
export const wastePerThousandOf = (run: Run): Measured =>
  wasteMassOf(run).times(1000).over(pagesOf(run), 'pages');

export const wastePerThousand: RunFigure = {
  name: 'waste_per_thousand',
  title: 'waste per thousand pages',
  unit: 'g',
  per: 'trial',
  formula: {
    words: 'Waste mass for every thousand pages printed.',
    symbols: '1000 × waste_mass / pages',
  },
  source: 'common practice, no source',
  derive: wastePerThousandOf,
};
