import type { CartridgeFigure } from './figure.ts';
import { counterpartOf, referenceOf } from './reference-run.ts';
import { yieldAtReferenceOf } from './yield-at-reference.ts';

export const yieldRatio: CartridgeFigure = {
  name: 'yield_ratio',
  title: 'yield ratio',
  unit: '1',
  per: 'cartridge',
  ofWholeRun: true,
  formula: {
    words: 'Yield at reference coverage of the candidate over that of the reference in the same slot.',
    symbols: 'yield_at_reference / yield_at_reference of the reference',
    worked: ['yield_at_reference / their_yield_at_reference'],
  },
  source: 'comparison in the same machine; common practice, no source',
  derive: (cartridge, run, settings) => {
    const reference = referenceOf(run);
    const theirs = yieldAtReferenceOf(counterpartOf(cartridge, reference), reference, settings);
    return yieldAtReferenceOf(cartridge, run, settings).over(theirs, 'yield of the reference');
  },
};
