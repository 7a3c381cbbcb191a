import { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { CartridgeFigure } from './figure.ts';
import { yieldAtReferenceOf } from './yield-at-reference.ts';

export const yieldToRating: CartridgeFigure = {
  name: 'yield_to_rating',
  title: 'yield to rating',
  unit: '%',
  per: 'cartridge',
  ofWholeRun: true,
  formula: {
    words: 'Yield at reference coverage as a share of the yield the supplier rates the cartridge for.',
    symbols: '100 × yield_at_reference / rated_yield',
  },
  source: 'common practice, no source',
  derive: (cartridge, run, settings) => {
    if (cartridge.ratedYield === null) {
      throw new NotDerived({ code: 'reading-missing', path: [...cartridge.path, 'rated_yield'] });
    }
    const rated = Measured.exact(cartridge.ratedYield, [...cartridge.path, 'rated_yield']);
    return yieldAtReferenceOf(cartridge, run, settings).times(100).over(rated, 'rated_yield');
  },
};
