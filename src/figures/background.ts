import { need, type RunFigure } from './figure.ts';

export const background: RunFigure = {
  name: 'background',
  title: 'background',
  unit: '1',
  per: 'trial',
  formula: {
    words: 'Density of the unprinted area above that of the bare paper, as read.',
    symbols: 'as read',
  },
  source: 'density as in ASTM F2036-05 (seen); background as a difference from memory',
  derive: (run) => need(run.prints.background),
};
