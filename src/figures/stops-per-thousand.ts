import { rateBounds, ratePerThousand } from './event-rate.ts';
import type { RunFigure } from './figure.ts';

export const stopsPerThousand: RunFigure = {
  name: 'stops_per_thousand',
  title: 'stops per thousand pages',
  unit: '1',
  per: 'trial',
  formula: {
    words:
      'Events of the kind stop for every thousand pages of the trial; those in other batches do not count.',
    symbols: '1000 × stops / pages, u = 1000 × √stops / pages',
    worked: ['1000 × stops / pages'],
  },
  source: 'Poisson count; exact bounds: Garwood, Biometrika 28 (1936) 437, from memory',
  derive: (run) => ratePerThousand(run, 'stop'),
  bounds: (run, tail) => rateBounds(run, 'stop', tail),
};
