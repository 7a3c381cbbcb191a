import { marksOn } from '../figures/repeating-marks.ts';
import type { Problem } from '../problems/problem.ts';
import type { Check } from './check.ts';

/** Marks that repeat down the page, with the rotating parts they can come from. */
export const marksExplained: Check = ({ trial: { data } }) => {
  const parts = Object.entries(data.machine?.rotating_parts ?? {}).flatMap(([part, diameter]) =>
    diameter ? [{ part, diameter: diameter.value }] : [],
  );
  if (parts.length === 0) return [];
  return (data.prints?.marks ?? []).flatMap(({ distance }, index): Problem[] => {
    const matches = marksOn(distance.value, parts).map(({ part, turns }) => ({ part, turns }));
    return [
      {
        code: 'mark-repeats',
        distance: distance.text,
        matches,
        path: ['prints', 'marks', index, 'distance'],
      },
    ];
  });
};
