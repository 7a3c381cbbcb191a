import type { Trial } from './trial.ts';

/** What tells one machine from another: its serial, else its label; null where the trial names none. */
export const machineOf = ({ data: { machine } }: Pick<Trial, 'data'>): string | null =>
  machine?.serial ?? machine?.label ?? null;
