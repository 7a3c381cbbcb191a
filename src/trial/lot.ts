import type { Cartridge, Trial } from './trial.ts';

type Of = Pick<Trial, 'data'>;

/** The lot of a cartridge under test: its own, else that of its trial; null where neither is named. */
export const lotOf = ({ lot }: Pick<Cartridge, 'lot'>, { data }: Of): string | null =>
  lot ?? data.lot?.id ?? null;

/** Whether what a trial says of its lot is said of this one: it names this lot, or none. */
export const speaksOf = (named: string | null, lot: string | null): boolean =>
  named === null || named === lot;

/** Who delivered a cartridge: the supplier of its trial's lot, where that is the cartridge's lot too. */
export const supplierOf = (cartridge: Pick<Cartridge, 'lot'>, trial: Of): string | null =>
  speaksOf(trial.data.lot?.id ?? null, lotOf(cartridge, trial)) ? (trial.data.lot?.supplier ?? null) : null;

/** The lots of the cartridges under test, each once, in the order they are met. */
export const lotsOf = (trial: Pick<Trial, 'data' | 'run'>): string[] => [
  ...new Set(trial.run.cartridges.flatMap((cartridge) => lotOf(cartridge, trial) ?? [])),
];

/** The lot a whole trial is of: the one it names, else the one that all its cartridges are of; else null. */
export function lotOfTrial(trial: Pick<Trial, 'data' | 'run'>): string | null {
  const named = trial.data.lot?.id ?? null;
  const [only = null, ...others] = lotsOf(trial);
  const all = trial.run.cartridges.every((cartridge) => lotOf(cartridge, trial) === only);
  return named ?? (others.length === 0 && all ? only : null);
}
