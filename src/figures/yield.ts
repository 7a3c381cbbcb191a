import type { Cartridge, Run } from '../trial/trial.ts';
import type { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { type CartridgeFigure, need } from './figure.ts';
import { pagesOf } from './pages.ts';

/**
 * Pages of a cartridge's own run. Where the file lists no cartridges the run is the trial's, and pages
 * that are not of the trial have come off it.
 */
export function pagesOfCartridge(cartridge: Cartridge, run: Run): Measured {
  if (run.cartridgeChanged) throw new NotDerived({ code: 'cartridge-changed' });
  if (!cartridge.listed) return pagesOf(run);
  return need(cartridge.to).minus(need(cartridge.from)).over(run.meter.clicksPerPage, 'clicks_per_page');
}

/** Yield of a cartridge: its pages; only a lower bound unless it was fitted new and ran until exhausted. */
export function yieldOf(cartridge: Cartridge, run: Run): Measured {
  const printed = pagesOfCartridge(cartridge, run);
  return cartridge.exhausted && cartridge.fresh ? printed : printed.as('at_least');
}

export const cartridgeYield: CartridgeFigure = {
  name: 'yield',
  title: 'yield',
  unit: 'page',
  per: 'cartridge',
  formula: {
    words:
      'Pages the cartridge printed until exhausted; if it was not, its yield is at least what it printed.',
    symbols: 'pages of the cartridge’s run',
    worked: ['(end − start) / clicks_per_page', '(end − start) / clicks_per_page − other_pages'],
  },
  source: 'ISO/IEC 19752 and 19798 tie yield to the end of life; the clauses were not seen',
  derive: yieldOf,
};
