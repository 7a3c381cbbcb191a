import type { Cartridge, Run } from '../trial/trial.ts';
import type { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { unlistedCartridge } from './changes.ts';
import { type CartridgeFigure, need } from './figure.ts';
import { clicksPerPage, pagesWithOther } from './pages.ts';

/**
 * Pages of a cartridge's own run, those of other batches included: they wear it as well. Where the file lists no
 * cartridges the run is the trial's, and `other_pages` have come off it.
 */
export function pagesOfCartridge(cartridge: Cartridge, run: Run): Measured {
  if (unlistedCartridge(run, cartridge.slot) !== null) throw new NotDerived({ code: 'cartridge-changed' });
  if (!cartridge.listed) return pagesWithOther(run);
  return need(cartridge.to).minus(need(cartridge.from)).over(clicksPerPage(run), 'clicks_per_page');
}

/** The yield as far as it is known: only a lower bound unless all its pages are, from new until exhausted. */
export const asKnown = (pages: Measured, { exhausted, fresh, usedBefore }: Cartridge): Measured =>
  exhausted && (fresh || usedBefore !== null) ? pages : pages.as('at_least');

/** Yield of a cartridge: its pages in this run, and those it had printed before. */
export function yieldOf(cartridge: Cartridge, run: Run): Measured {
  const printed = pagesOfCartridge(cartridge, run);
  const { usedBefore } = cartridge;
  return asKnown(usedBefore === null ? printed : printed.plus(usedBefore.pages), cartridge);
}

export const cartridgeYield: CartridgeFigure = {
  name: 'yield',
  title: 'yield',
  unit: 'page',
  per: 'cartridge',
  ofWholeRun: true,
  formula: {
    words:
      'Pages the cartridge printed until exhausted, those before this trial and those of other batches included; if it was not exhausted, its yield is at least what it printed.',
    symbols: 'pages of the cartridge’s run [+ used_before]',
    worked: [
      '(end − start) / clicks_per_page',
      '(end − start) / clicks_per_page − other_pages',
      '(end − start) / clicks_per_page + used_before',
    ],
  },
  source:
    'end of life: JIS X 6932:2008, clause 3 (identical to ISO/IEC 19798:2007; definitions consulted); ISO/IEC 19752:2025 and 19798:2025: text not consulted',
  derive: yieldOf,
};
