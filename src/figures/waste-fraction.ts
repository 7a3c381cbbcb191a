import type { Run } from '../trial/trial.ts';
import type { Measured } from '../uncertainty/measured.ts';
import type { RunFigure } from './figure.ts';
import { tonerUsedIn } from './toner-used.ts';
import { wasteMassOf } from './waste-mass.ts';

/** Share of the toner used that ended in the waste container, in percent. */
export const wasteFractionOf = (run: Run): Measured =>
  wasteMassOf(run).times(100).over(tonerUsedIn(run), 'toner_used');

export const wasteFraction: RunFigure = {
  name: 'waste_fraction',
  title: 'waste fraction',
  unit: '%',
  per: 'trial',
  formula: {
    words: 'Waste as a share of the toner all cartridges lost.',
    symbols: '100 × waste_mass / toner_used in all',
    worked: ['100 × waste_mass / toner_used'],
  },
  source: 'balance of masses; common practice, no source',
  derive: wasteFractionOf,
};
