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
  source:
    'density: ASTM F2036-05 (reapproved 2011, withdrawn 2020), 3.2, text consulted; the difference from bare paper: from memory',
  derive: (run) => need(run.prints.background),
};
