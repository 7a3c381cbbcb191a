import type { PatchFigure } from './figure.ts';
import { change } from './prints.ts';

export const densityChange: PatchFigure = {
  name: 'density_change',
  title: 'density change',
  unit: '1',
  per: 'patch',
  formula: {
    words: 'Density of the patch at the end of the run, less its density at the start.',
    symbols: 'last − first',
  },
  source:
    'D = −log10 R, diffuse reflection density: ASTM F2036-05 (reapproved 2011, withdrawn 2020), 3.2, text consulted',
  derive: ({ last, first }) => change(last.density, first.density),
};
