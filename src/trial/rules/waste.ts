import { counted } from '../meter.ts';
import type { Problem } from '../../problems/problem.ts';
import type { Quantity } from '../quantity.ts';
import type { RunData } from '../schema/trial.ts';
import type { RunRule } from './rule.ts';

/** A container weighs no less after the run, or on the way, than empty. */
export const wasteRules: RunRule = (run, path) => {
  const { waste_container: waste } = run;
  const problems: Problem[] = [];
  const containers = Array.isArray(waste) ? waste : waste ? [waste] : [];
  for (const [index, { tare, final }] of containers.entries()) {
    const at = [...path, 'waste_container', ...(Array.isArray(waste) ? [index] : []), 'final'];
    if (tare && final?.value.lt(tare.value)) {
      problems.push({ code: 'final-below-tare', tare: tare.text, final: final.text, path: at });
    }
  }
  for (const { container, weighings } of weighedOnTheWay(run, containers)) {
    for (const { mass, index } of weighings) {
      const at = [...path, 'batches', index, 'container_mass'];
      if (container.tare && mass.value.lt(container.tare.value)) {
        problems.push({ code: 'interim-below-tare', tare: container.tare.text, mass: mass.text, path: at });
      }
    }
  }
  return problems;
};

type ContainerData = Exclude<RunData['waste_container'], readonly unknown[] | null | undefined>;

interface Weighed {
  readonly container: ContainerData;
  /** On the way, with their places in the list of batches. */
  readonly weighings: readonly { readonly mass: Quantity; readonly index: number }[];
}

/**
 * The weighings on the way, by the container that was weighed: the only one; or, where every change was
 * noted with its meter reading, the one between two changes. At the reading of a change it may have been
 * either.
 */
function weighedOnTheWay(
  { meter, batches, events }: RunData,
  containers: readonly ContainerData[],
): readonly Weighed[] {
  const weighings = (batches ?? []).flatMap(({ end, container_mass: mass }, index) =>
    mass ? [{ mass, index, end: end ? counted(meter, end) : null }] : [],
  );
  const [only] = containers;
  if (only === undefined) return [];
  const changes = (events ?? []).filter(({ kind }) => kind === 'container_change');
  if (containers.length === 1) return changes.length === 0 ? [{ container: only, weighings }] : [];
  const readings = changes.flatMap(({ at }) => (at ? [counted(meter, at)] : [])).toSorted((a, b) => a.cmp(b));
  if (readings.length !== containers.length - 1 || changes.length !== readings.length) return [];
  return containers.map((container, nth) => ({
    container,
    weighings: weighings.filter(({ end }) => {
      const [from, to] = [readings[nth - 1], readings[nth]];
      return end !== null && (!from || end.gt(from)) && (!to || end.lt(to));
    }),
  }));
}
