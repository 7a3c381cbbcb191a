import { need, type RunFigure } from './figure.ts';

export const registration: RunFigure = {
  name: 'registration',
  title: 'registration',
  unit: 'mm',
  per: 'trial',
  formula: {
    words: 'Largest shift between two colours, as read.',
    symbols: 'as read',
  },
  source: 'as read; common practice, no source',
  derive: (run) => need(run.prints.registration),
};
