import { NotDerived } from '../uncertainty/not-derived.ts';
import { type CartridgeFigure, need } from './figure.ts';
import { tonerPerPageOf } from './toner-per-page.ts';

export const usagePerArea: CartridgeFigure = {
  name: 'usage_per_area',
  title: 'usage per area',
  unit: 'mg/cm²',
  per: 'cartridge',
  ofToner: true,
  formula: {
    words:
      'Toner drawn from the cartridge for each square centimetre covered; part of it is waste, not on paper.',
    symbols: 'toner_per_page / (page area × coverage)',
    worked: ['toner_per_page / (area cm² × c / 100)'],
  },
  source: 'arithmetic; common practice, no source',
  derive: (cartridge, run) => {
    const coverage = run.coverage(cartridge.slot);
    const share = need(coverage);
    if (share.value.isZero()) throw new NotDerived({ code: 'coverage-zero', path: coverage.path });
    const squareCentimetres = run.paper.width.times(run.paper.height).div(100);
    return tonerPerPageOf(cartridge, run).times(100).over(share.times(squareCentimetres), 'coverage');
  },
};
