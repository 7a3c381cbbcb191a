import type { Decimal } from '../../uncertainty/decimal.ts';
import type { Path } from '../../uncertainty/path.ts';
import { counted, counterEnd } from '../meter.ts';
import type { Problem } from '../../problems/problem.ts';
import type { Quantity } from '../quantity.ts';
import type { RunData } from '../schema/trial.ts';
import type { RunRule } from './rule.ts';

/** The meter ends where it began or later, in numbers its counter can show, and other pages fit in. */
export const meterRules: RunRule = ({ meter }, path) => {
  const problems: Problem[] = [];
  if (meter == null) return problems;
  const { start, end, digits, other_pages: other } = meter;
  const at = (key: string): Path => [...path, 'meter', key];
  if (digits) {
    for (const [key, reading] of [
      ['start', start],
      ['end', end],
    ] as const) {
      if (reading?.value.gte(counterEnd(digits))) {
        problems.push({
          code: 'more-digits-than-counter',
          written: reading.text,
          digits: digits.value.toNumber(),
          path: at(key),
        });
      }
    }
  }
  if (!start || !end) return problems;
  if (end.value.lt(start.value) && !digits) {
    problems.push({ code: 'end-below-start', start: start.text, end: end.text, path: at('end') });
    return problems;
  }
  if (end.value.lt(start.value) && digits) {
    problems.push({ code: 'rolled-over', digits: digits.value.toNumber(), path: at('end') });
  }
  const run = counted(meter, end)
    .minus(start.value)
    .div(meter.clicks_per_page?.value ?? 1);
  if (other?.value.gt(run)) {
    problems.push({
      code: 'other-pages-exceed-run',
      other: other.text,
      run: run.toFixed(),
      path: at('other_pages'),
    });
  }
  return problems;
};

/** Whether a reading lies in the run, as far as the run's ends are known; else the problem. */
export function insideRun(meter: RunData['meter'], reading: Quantity, path: Path): Problem[] {
  const { start, end } = meter ?? {};
  if (!start) return [];
  if (end && end.value.lt(start.value) && !meter?.digits) return [];
  const value = counted(meter, reading);
  const before = value.lt(start.value);
  const after = end != null && value.gt(counted(meter, end));
  if (!before && !after) return [];
  return [{ code: 'outside-run', written: reading.text, start: start.text, end: end?.text ?? '…', path }];
}

/** Checkpoints lie in the run, and one after the other; other pages are given in one way. */
export const batchRules: RunRule = ({ meter, batches }, path) => {
  const problems: Problem[] = [];
  let before: Quantity | null = null;
  const { other_pages: other } = meter ?? {};
  const marked = (batches ?? []).findIndex((batch) => batch.other === true);
  if (other?.value.gt(0) && marked !== -1)
    problems.push({
      code: 'other-pages-twice',
      other: other.text,
      path: [...path, 'batches', marked, 'other'],
    });
  for (const [index, { end }] of (batches ?? []).entries()) {
    if (!end) continue;
    const at = [...path, 'batches', index, 'end'];
    const outside = insideRun(meter, end, at);
    problems.push(...outside);
    if (before !== null && counted(meter, end).lte(counted(meter, before))) {
      problems.push({ code: 'out-of-order', before: before.text, written: end.text, path: at });
    }
    if (outside.length === 0) before = end;
  }
  return problems;
};

/** Events happened in the run; those out of order are sorted, and that is said. */
export const eventRules: RunRule = ({ meter, events }, path) => {
  const problems: Problem[] = [];
  let latest: Decimal | null = null;
  let sorted = false;
  for (const [index, { at }] of (events ?? []).entries()) {
    if (!at) continue;
    problems.push(...insideRun(meter, at, [...path, 'events', index, 'at']));
    const value = counted(meter, at);
    if (latest !== null && value.lt(latest) && !sorted) {
      sorted = true;
      problems.push({ code: 'readings-sorted', path: [...path, 'events', index, 'at'] });
    }
    if (latest === null || value.gt(latest)) latest = value;
  }
  return problems;
};
