import type { Random } from '../../fuzz/random.ts';
import type { Readings } from './random-trial.ts';

/** Slips of the hand in one number, as they are made in copying it from a display. */

export const SLIPS = ['swapped', 'dropped', 'doubled'] as const;
export type SlipKind = (typeof SLIPS)[number];
export const PLACES = ['meter.end', 'final', 'interim', 'checkpoint'] as const;
export type SlipPlace = (typeof PLACES)[number];

/** A number with one slip in it. */
export function slipped(value: number, kind: SlipKind, random: Random): number {
  const digits = String(value);
  const at = random.below(digits.length);
  if (kind === 'dropped') return Number(digits.slice(0, at) + digits.slice(at + 1));
  if (kind === 'doubled') return Number(digits.slice(0, at + 1) + digits.slice(at));
  const first = random.below(digits.length - 1);
  const pair = `${digits[first + 1] ?? ''}${digits[first] ?? ''}`;
  return Number(digits.slice(0, first) + pair + digits.slice(first + 2));
}

/** Readings with one slip in one of them. */
export function withSlip(readings: Readings, place: SlipPlace, kind: SlipKind, random: Random): Readings {
  const slip = (value: number): number => slipped(value, kind, random);
  if (place === 'meter.end') return { ...readings, end: slip(readings.end) };
  if (place === 'final') return { ...readings, final: slip(readings.final) };
  const nth = random.below(readings.batches.length);
  const batches = readings.batches.map((batch, index) => {
    if (index !== nth) return batch;
    return place === 'checkpoint'
      ? { ...batch, end: slip(batch.end) }
      : { ...batch, mass: batch.mass === null ? null : slip(batch.mass) };
  });
  return { ...readings, batches };
}
