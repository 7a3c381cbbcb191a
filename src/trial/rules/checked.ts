import { nearest } from '../nearest.ts';
import type { Problem } from '../../problems/problem.ts';
import type { TrialRule } from './rule.ts';

/** What is said to be checked is a reading of the trial. */
export const checkedRule: TrialRule = ({ checked, ...trial }) => {
  if (!checked?.length) return [];
  const names = [...namesIn(trial)];
  const known = new Set(names);
  return checked.flatMap(({ reading }, index): Problem[] => {
    if (known.has(reading)) return [];
    const path = ['checked', index, 'reading'];
    return [{ code: 'checked-unknown', reading, nearest: nearest(reading, names), path }];
  });
};

/** Every place of a trial as people name it, list entries counted from 1: `batches[3]`, `batches[3].end`. */
function* namesIn(data: unknown, name = ''): Generator<string> {
  if (name !== '') yield name;
  if (data === null || typeof data !== 'object') return;
  if ('resolution' in data) {
    if ('repeats' in data) yield* namesIn(data.repeats, name);
    return;
  }
  const steps: [step: string, value: unknown][] = Array.isArray(data)
    ? data.map((value, index) => [`[${index + 1}]`, value])
    : Object.entries(data).map(([key, value]) => [name === '' ? key : `.${key}`, value]);
  for (const [step, value] of steps) if (value != null) yield* namesIn(value, `${name}${step}`);
}
