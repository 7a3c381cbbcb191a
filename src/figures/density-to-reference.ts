import type { PatchFigure } from './figure.ts';
import { change, referencePrint } from './prints.ts';

export const densityToReference: PatchFigure = {
  name: 'density_to_reference',
  title: 'density to reference',
  unit: '1',
  per: 'patch',
  formula: {
    words: 'Density of the patch at the end of the run, less its density with the reference consumable.',
    symbols: 'last − reference',
  },
  source:
    'D = −log10 R, diffuse reflection density: ASTM F2036-05 (reapproved 2011, withdrawn 2020), 3.2, text consulted',
  derive: (patch, run) =>
    change(
      patch.last.density,
      referencePrint(patch, run, ({ density }) => density),
    ),
};
