import type { Problem } from '../problem.ts';
import type { Quantity } from '../quantity.ts';
import type { RunRule } from './rule.ts';

/** A container weighs no less after the run than empty, and no less from one weighing to the next. */
export const wasteRules: RunRule = ({ waste_container: waste, batches }, path) => {
  const problems: Problem[] = [];
  const containers = Array.isArray(waste) ? waste : waste ? [waste] : [];
  for (const [index, { tare, final }] of containers.entries()) {
    const at = [...path, 'waste_container', ...(Array.isArray(waste) ? [index] : []), 'final'];
    if (tare && final?.value.lt(tare.value)) {
      problems.push({ code: 'final-below-tare', tare: tare.text, final: final.text, path: at });
    }
  }
  const [only] = containers;
  if (only === undefined || containers.length > 1) return problems;

  let before: Quantity | null = null;
  for (const [index, { container_mass: mass }] of (batches ?? []).entries()) {
    if (!mass) continue;
    const at = [...path, 'batches', index, 'container_mass'];
    if (only.tare && mass.value.lt(only.tare.value)) {
      problems.push({ code: 'interim-below-tare', tare: only.tare.text, mass: mass.text, path: at });
    } else if (only.final && mass.value.gt(only.final.value)) {
      problems.push({ code: 'interim-above-final', mass: mass.text, final: only.final.text, path: at });
    } else if (before !== null && mass.value.lt(before.value)) {
      problems.push({ code: 'interim-falls', before: before.text, mass: mass.text, path: at });
    }
    before = mass;
  }
  return problems;
};
