import { colourDifferenceOf } from './ciede2000.ts';
import type { PatchFigure } from './figure.ts';
import { referencePrint } from './prints.ts';

export const colourToReference: PatchFigure = {
  name: 'colour_to_reference',
  title: 'colour to reference',
  unit: 'ΔE00',
  per: 'patch',
  formula: {
    words: 'Colour difference of the patch between the end of the run and the reference consumable.',
    symbols: 'ΔE00(last, reference)',
  },
  source:
    'CIEDE2000: ISO/CIE 11664-6, edition not consulted; checked against Sharma, Wu and Dalal, Color Research and Application 30 (2005) 21–30, Table 1',
  derive: (patch, run) =>
    colourDifferenceOf(patch.last.lab, [
      referencePrint(patch, run, ({ lab }) => lab[0]),
      referencePrint(patch, run, ({ lab }) => lab[1]),
      referencePrint(patch, run, ({ lab }) => lab[2]),
    ]),
};
