import type { Cartridge, Run } from '../trial/trial.ts';
import type { Measured } from '../uncertainty/measured.ts';
import type { CartridgeFigure } from './figure.ts';
import { tonerUsedBy } from './toner-used.ts';
import { pagesOfCartridge } from './yield.ts';

/** Toner a cartridge lost for each page of its own run, in mg. */
export const tonerPerPageOf = (cartridge: Cartridge, run: Run): Measured =>
  tonerUsedBy(cartridge).times(1000).over(pagesOfCartridge(cartridge, run), 'pages of the cartridge');

export const tonerPerPage: CartridgeFigure = {
  name: 'toner_per_page',
  title: 'toner per page',
  unit: 'mg',
  per: 'cartridge',
  ofToner: true,
  formula: {
    words:
      'Toner removed from the cartridge in printing one page, on the mean over all pages it printed, other batches included.',
    symbols: '1000 × toner_used / pages of the cartridge’s run',
    worked: ['1000 × toner_used / yield'],
  },
  source:
    'toner usage: ASTM F1856-04 (reapproved 2009, withdrawn 2017), 3.1.1; this definition was consulted, the clause on its calculation was not',
  derive: tonerPerPageOf,
};
