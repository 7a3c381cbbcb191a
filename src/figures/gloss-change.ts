import type { PatchFigure } from './figure.ts';
import { change } from './prints.ts';

export const glossChange: PatchFigure = {
  name: 'gloss_change',
  title: 'gloss change',
  unit: 'GU',
  per: 'patch',
  formula: {
    words: 'Gloss of the patch at the end of the run, less its gloss at the start.',
    symbols: 'last − first',
  },
  source: 'difference of two readings; common practice, no source',
  derive: ({ last, first }) => change(last.gloss, first.gloss),
};
