import type { CartridgeFigure } from './figure.ts';
import { projectedYieldOf } from './projected-yield.ts';
import { atReference } from './yield-at-reference.ts';

export const projectedYieldAtReference: CartridgeFigure = {
  name: 'projected_yield_at_reference',
  title: 'projected yield at reference',
  short: 'projected at ref.',
  unit: 'page',
  per: 'cartridge',
  ofToner: true,
  formula: {
    words: 'The projected yield, carried to the reference coverage as a yield is.',
    symbols: 'as yield_at_reference, with projected_yield in place of yield',
    worked: ['projected_yield × c / c_ref', 'projected_yield × m / (m0 + (m − m0) × c_ref / c)'],
  },
  source: 'proportion, a first-order model; common practice, no source',
  derive: (cartridge, run, settings) =>
    atReference(projectedYieldOf(cartridge, run), cartridge, run, settings),
};
