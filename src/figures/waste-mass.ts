import type { Reading, Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { unlistedContainer } from './changes.ts';
import { need, type RunFigure } from './figure.ts';
import { otherIn } from './stretches.ts';

/**
 * Waste collected during the run, in grams, over every container used.
 *
 * @throws NotDerived where a container was changed that is not listed: its waste is in none of the weighings
 */
export function wasteMassOf(run: Run): Measured {
  if (run.containers.length === 0) {
    throw new NotDerived({ code: 'reading-missing', path: [...run.path, 'waste_container'] });
  }
  if (unlistedContainer(run) !== null) throw new NotDerived({ code: 'container-changed' });
  return Measured.sum(run.containers.map(({ tare, final }) => need(final).minus(need(tare))));
}

/**
 * What the container took up to a reading of the meter, as it was weighed there; null where it was not, or where there
 * are several containers.
 */
function weighedAt({ meter, containers, batches }: Run, at: Reading): Measured | null {
  const [only, ...others] = containers;
  const stop = at.measured?.value;
  if (only === undefined || others.length > 0 || stop === undefined) return null;
  const weighings = [
    [meter.start, only.tare],
    ...batches.map(({ end, containerMass }) => [end, containerMass] as const),
    [meter.end, only.final],
  ] as const;
  const found = weighings.find(
    ([where, { measured }]) => measured !== null && where.measured?.value.eq(stop),
  );
  return found?.[1].measured ?? null;
}

/**
 * Waste of the pages of the trial, in grams. That of other batches comes off where the container was weighed before
 * and after each of them; else it is in it, and the waste of the trial is at most that in the container.
 */
export function wasteOfTrial(run: Run): Measured {
  const waste = wasteMassOf(run);
  const other = otherIn(run);
  if (other === null) return waste;
  const known = other.all.flatMap(({ from, to }, index, all) => {
    // One that follows another of them has no end of its own to be weighed at.
    if (all[index - 1]?.to === from) return [];
    const last = all.find((one, place) => place >= index && all[place + 1]?.from !== one.to);
    const [before, after] = [weighedAt(run, from), weighedAt(run, last?.to ?? to)];
    return [before === null || after === null ? null : after.minus(before)];
  });
  const less = known.reduce<Measured>((rest, one) => (one === null ? rest : rest.minus(one)), waste);
  return known.includes(null) ? less.as('at_most') : less;
}

export const wasteMass: RunFigure = {
  name: 'waste_mass',
  title: 'waste mass',
  unit: 'g',
  per: 'trial',
  formula: {
    words:
      'What the waste container weighs after the run, less what it weighed empty; of all containers together. The waste of other batches is in it.',
    symbols: 'Σ (final − tare)',
  },
  source: 'difference of two weighings; common practice, no source',
  derive: wasteMassOf,
};
