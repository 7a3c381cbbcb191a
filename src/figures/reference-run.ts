import type { Cartridge, Run } from '../trial/trial.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';

/** The reference run. @throws NotDerived `reading-missing` where the file has none */
export function referenceOf(run: Run): Run {
  if (run.against === null) throw new NotDerived({ code: 'reading-missing', path: ['reference'] });
  return run.against;
}

/** The reference cartridge a candidate is held against: the first in the same slot of the reference run. */
export function counterpartOf({ slot }: Cartridge, reference: Run): Cartridge {
  const found = reference.cartridges.find((cartridge) => cartridge.slot === slot);
  if (found === undefined)
    throw new NotDerived({ code: 'reading-missing', path: [...reference.path, 'cartridges'] });
  return found;
}
