import { rateBounds, ratePerThousand } from './event-rate.ts';
import type { RunFigure } from './figure.ts';

export const jamsPerThousand: RunFigure = {
  name: 'jams_per_thousand',
  title: 'jams per thousand pages',
  unit: '1',
  per: 'trial',
  formula: {
    words:
      'Events of the kind jam for every thousand pages of the trial; those in other batches do not count.',
    symbols: '1000 × jams / pages, u = 1000 × √jams / pages',
    worked: ['1000 × jams / pages'],
  },
  source: 'Poisson count; exact bounds: Garwood, Biometrika 28 (1936) 437, from memory',
  derive: (run) => ratePerThousand(run, 'jam'),
  bounds: (run, tail) => rateBounds(run, 'jam', tail),
};
