import type { Run } from '../trial/trial.ts';
import type { Measured } from '../uncertainty/measured.ts';
import type { RunFigure } from './figure.ts';
import { pagesOf } from './pages.ts';
import { wasteOfTrial } from './waste-mass.ts';

/** Waste of a run for every thousand pages, in grams. */
export const wastePerThousandOf = (run: Run): Measured =>
  wasteOfTrial(run).times(1000).over(pagesOf(run), 'pages');

export const wastePerThousand: RunFigure = {
  name: 'waste_per_thousand',
  title: 'waste per thousand pages',
  unit: 'g',
  per: 'trial',
  formula: {
    words:
      'Waste mass for every thousand pages printed. The waste of other batches comes off where the container was weighed before and after them; else it is in it, and the figure is at most what it says.',
    symbols:
      '1000 × waste_mass / pages; with other batches weighed apart: 1000 × (waste_mass − their waste) / pages',
    worked: ['1000 × waste_mass / pages', '1000 × waste_of_trial / pages'],
  },
  source: 'common practice, no source',
  derive: wastePerThousandOf,
};
