import { need, type ReadingsFigure } from './figure.ts';
import { fromAmbient } from './ambient.ts';

export const temperature: ReadingsFigure = {
  name: 'temperature',
  title: 'temperature',
  unit: '°C',
  per: 'readings',
  effect: 'voids',
  formula: {
    words:
      'As read while printing, where the file says when that was; the mean is weighted by time where every reading says when it was taken.',
    symbols: 'least, greatest, mean = ∫ x dt / ∫ dt over the printing, x straight from reading to reading',
  },
  source: 'as read; trapezoidal rule for the mean; common practice, no source',
  derive: (run) => fromAmbient(run, ({ temperature: reading }) => reading && need(reading)),
};
