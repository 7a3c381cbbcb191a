import { CURRENCY } from '../trial/catalogue.ts';
import type { Cartridge, Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { CartridgeFigure, Settings } from './figure.ts';
import { stillInAtEnd } from './run-to-end.ts';
import { yieldAtReferenceOf } from './yield-at-reference.ts';

const priceOf = ({ price, path }: Cartridge): Measured => {
  if (price === null) throw new NotDerived({ code: 'reading-missing', path: [...path, 'price'] });
  return Measured.exact(price.amount, [...path, 'price']);
};

/**
 * The cost of a thousand pages with all slots: in each slot what its cartridges cost over what they yield.
 * One that was put in when another had reached its end, and was not run to its own, is left out.
 */
function costInAll(run: Run, settings: Settings): Measured {
  const slots = [...new Set(run.cartridges.map(({ slot }) => slot))];
  const costs = slots.map((slot) => {
    const cartridges = run.cartridges.filter(
      (cartridge) => cartridge.slot === slot && !stillInAtEnd(cartridge, run),
    );
    const prices = Measured.sum(cartridges.map(priceOf));
    const yields = Measured.sum(cartridges.map((cartridge) => yieldAtReferenceOf(cartridge, run, settings)));
    return prices.times(1000).over(yields, 'yield_at_reference');
  });
  return Measured.sum(costs);
}

export const costPerThousand: CartridgeFigure = {
  name: 'cost_per_thousand',
  title: 'cost per thousand pages',
  short: 'cost per thousand',
  unit: CURRENCY,
  per: 'cartridge',
  ofWholeRun: true,
  formula: {
    words:
      'What the cartridge costs for every thousand pages at the reference coverage; in all, for a page of every slot.',
    symbols: '1000 × price / yield_at_reference',
  },
  source: 'arithmetic; common practice, no source. Currencies: ISO 4217 (edition not consulted, from memory)',
  derive: (cartridge, run, settings) =>
    priceOf(cartridge)
      .times(1000)
      .over(yieldAtReferenceOf(cartridge, run, settings), 'yield_at_reference'),
  total: costInAll,
};
