import { Measured } from '../uncertainty/measured.ts';
import type { RunFigure } from './figure.ts';
import { wasteFractionOf } from './waste-fraction.ts';

export const transferredFraction: RunFigure = {
  name: 'transferred_fraction',
  title: 'transferred fraction',
  unit: '%',
  per: 'trial',
  formula: {
    words: 'Share of the toner used that did not end in the waste container.',
    symbols: '100 − waste_fraction',
  },
  source: 'balance of masses; common practice, no source',
  derive: (run) => Measured.exact(100).minus(wasteFractionOf(run)),
};
