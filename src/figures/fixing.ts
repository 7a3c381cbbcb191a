import { need, type RunFigure } from './figure.ts';

export const fixing: RunFigure = {
  name: 'fixing',
  title: 'fixing',
  unit: '%',
  per: 'trial',
  formula: {
    words: 'Density left after the rub or tape test.',
    symbols: '100 × after / before',
  },
  source: 'common practice, no source',
  derive: ({ prints: { fixing: test } }) =>
    need(test.after).times(100).over(need(test.before), 'density before the test'),
};
