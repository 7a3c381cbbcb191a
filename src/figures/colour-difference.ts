import { colourDifferenceOf } from './ciede2000.ts';
import type { PatchFigure } from './figure.ts';

export const colourDifference: PatchFigure = {
  name: 'colour_difference',
  title: 'colour difference',
  unit: 'ΔE00',
  per: 'patch',
  formula: {
    words: 'Colour difference of the patch between the end of the run and its start.',
    symbols: 'ΔE00(last, first)',
  },
  source:
    'CIEDE2000: ISO/CIE 11664-6, edition not consulted; checked against Sharma, Wu and Dalal, Color Research and Application 30 (2005) 21–30, Table 1',
  derive: ({ last, first }) => colourDifferenceOf(last.lab, first.lab),
};
