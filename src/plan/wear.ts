import type { Trial } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { meterAfter } from './checkpoints.ts';

/** A part of the machine that reaches its rated life in a run. */
export interface WornPart {
  /** Its place in the list of parts. */
  readonly index: number;
  readonly part: string;
  /** page */
  readonly life: Decimal;
  /** Meter reading at which it does; null where it was past it at the start, or the start is not known. */
  readonly at: Decimal | null;
  /** It had reached its life before the run. */
  readonly before: boolean;
}

/** The parts that reach their rated life within so many pages of the run's start. */
export const partsWorn = (trial: Trial, pages: Decimal): readonly WornPart[] =>
  (trial.data.machine?.parts ?? []).flatMap(({ part, rated_life: life, used }, index): WornPart[] => {
    if (!life) return [];
    const left = life.value.minus(used?.value ?? 0);
    if (left.gt(pages)) return [];
    const before = left.isNegative();
    return [{ index, part, life: life.value, before, at: before ? null : meterAfter(trial, left) }];
  });
