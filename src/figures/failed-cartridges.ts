import type { Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { RunFigure } from './figure.ts';

/** Cartridges of a run that failed. @throws NotDerived where the file lists none: then nothing was said of them */
export function failedCartridgesOf({ cartridges, path }: Run): Measured {
  const at = [...path, 'cartridges'];
  if (!cartridges[0]?.listed) throw new NotDerived({ code: 'reading-missing', path: at });
  return Measured.exact(cartridges.filter(({ failed }) => failed).length, at);
}

export const failedCartridges: RunFigure = {
  name: 'failed_cartridges',
  title: 'failed cartridges',
  unit: '1',
  per: 'trial',
  formula: {
    words: 'Cartridges that leaked, were not recognised, stopped early or failed in another way.',
    symbols: 'count of cartridges with failed_at or failed_by',
  },
  source: 'a count; common practice, no source',
  derive: failedCartridgesOf,
};
