import type { PatchFigure } from './figure.ts';
import { change, referencePrint } from './prints.ts';

export const glossToReference: PatchFigure = {
  name: 'gloss_to_reference',
  title: 'gloss to reference',
  unit: 'GU',
  per: 'patch',
  formula: {
    words: 'Gloss of the patch at the end of the run, less its gloss with the reference consumable.',
    symbols: 'last − reference',
  },
  source: 'difference of two readings; common practice, no source',
  derive: (patch, run) =>
    change(
      patch.last.gloss,
      referencePrint(patch, run, ({ gloss }) => gloss),
    ),
};
