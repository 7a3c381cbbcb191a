import type { CartridgeFigure } from './figure.ts';
import { counterpartOf, referenceOf } from './reference-run.ts';
import { tonerPerPageOf } from './toner-per-page.ts';

export const usageRatio: CartridgeFigure = {
  name: 'usage_ratio',
  title: 'usage ratio',
  unit: '1',
  per: 'cartridge',
  ofToner: true,
  formula: {
    words: 'Toner per page of the candidate over that of the reference in the same slot.',
    symbols: 'toner_per_page / toner_per_page of the reference',
    worked: ['toner_per_page / their_toner_per_page'],
  },
  source: 'comparison in the same machine; common practice, no source',
  derive: (cartridge, run) => {
    const reference = referenceOf(run);
    const theirs = tonerPerPageOf(counterpartOf(cartridge, reference), reference);
    return tonerPerPageOf(cartridge, run).over(theirs, 'toner per page of the reference');
  },
};
