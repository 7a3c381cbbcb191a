import type { Cartridge, Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { type CartridgeFigure, need } from './figure.ts';

/** Toner a cartridge lost during its run, in grams. */
export const tonerUsedBy = ({ startMass, endMass }: Cartridge): Measured =>
  need(startMass).minus(need(endMass));

/** The cartridges that hold toner: a drum or a fuser does not. */
export const withToner = ({ cartridges }: Run): readonly Cartridge[] =>
  cartridges.filter(({ life }) => life === 'toner');

/** Toner all cartridges of a run lost, in grams; every one of them has been weighed. */
export const tonerUsedIn = (run: Run): Measured => Measured.sum(withToner(run).map(tonerUsedBy));

export const tonerUsed: CartridgeFigure = {
  name: 'toner_used',
  title: 'toner used',
  unit: 'g',
  per: 'cartridge',
  ofToner: true,
  formula: {
    words: 'What the cartridge weighed before its run, less what it weighed after.',
    symbols: 'start_mass − end_mass',
  },
  source: 'difference of two weighings; common practice, no source',
  derive: tonerUsedBy,
  total: tonerUsedIn,
};
