import type { Cartridge, Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { type CartridgeFigure, need } from './figure.ts';
import { tonerUsedBy } from './toner-used.ts';
import { pagesOfCartridge } from './yield.ts';

/** Whether a cartridge can be projected by its weights: fill and both weighings are there. */
export const weighed = ({ fillMass, startMass, endMass }: Cartridge): boolean =>
  fillMass.measured !== null && startMass.measured !== null && endMass.measured !== null;

/** Pages the whole fill would print, by weight, at the usage of this run. */
export function projectedByMass(cartridge: Cartridge, run: Run): Measured {
  const residual = cartridge.residualMass.measured ?? Measured.exact(0);
  const usable = need(cartridge.fillMass).minus(residual);
  return pagesOfCartridge(cartridge, run).times(usable).over(tonerUsedBy(cartridge), 'toner_used');
}

/** Pages the whole fill would print, by the level the machine shows. */
export function projectedByGauge(cartridge: Cartridge, run: Run): Measured {
  const fall = need(cartridge.gauge.start).minus(need(cartridge.gauge.end));
  return pagesOfCartridge(cartridge, run).times(100).over(fall, 'fall of the gauge');
}

/** By weight where the cartridge was weighed, else by gauge where that was read. */
export function projectedYieldOf(cartridge: Cartridge, run: Run): Measured {
  const { start, end } = cartridge.gauge;
  const byGauge = !weighed(cartridge) && start.measured !== null && end.measured !== null;
  return byGauge ? projectedByGauge(cartridge, run) : projectedByMass(cartridge, run);
}

export const projectedYield: CartridgeFigure = {
  name: 'projected_yield',
  title: 'projected yield',
  unit: 'page',
  per: 'cartridge',
  ofToner: true,
  formula: {
    words:
      'Pages the whole fill would print at the usage of this run: by weight, or by gauge where there are no weights. Pages of other batches that the cartridge printed count. A projection, not a yield.',
    symbols:
      'pages × (fill_mass − residual_mass) / toner_used; by gauge: pages × 100 / (gauge start − gauge end)',
    worked: ['yield × (fill_mass − residual_mass) / toner_used', 'yield × 100 / (gauge_start − gauge_end)'],
  },
  source: 'proportion, a first-order model; common practice, no source',
  derive: projectedYieldOf,
};
