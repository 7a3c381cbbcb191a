import { marksOn, rotatingPartsOf } from '../figures/repeating-marks.ts';
import type { Problem } from '../problems/problem.ts';
import type { Check } from './check.ts';

/** Marks that repeat down the page, with the rotating parts they can come from where the machine's are known. */
export const marksExplained: Check = ({ trial: { data, run, reference } }) => {
  const parts = rotatingPartsOf(data.machine);
  return [run, ...(reference ? [reference] : [])].flatMap(({ prints }) =>
    prints.marks.map(({ distance, slot, path }): Problem => ({
      code: 'mark-repeats',
      distance: distance.text,
      of: slot,
      matches:
        parts.length === 0
          ? null
          : marksOn(distance.value, parts).map(({ part, turns }) => ({ part, turns })),
      path: [...path, 'distance'],
    })),
  );
};
