import { projectedByGauge, projectedByMass, weighed } from '../figures/projected-yield.ts';
import { ifDerived } from '../uncertainty/not-derived.ts';
import type { Problem } from '../problems/problem.ts';
import type { Check } from './check.ts';

/** A cartridge projected by weight and by gauge comes out alike, as far as both can tell. */
export const projectionsAgree: Check = ({ trial: { run } }) =>
  run.cartridges.flatMap((cartridge): Problem[] => {
    const byMass = ifDerived(() => projectedByMass(cartridge, run));
    const byGauge = ifDerived(() => projectedByGauge(cartridge, run));
    if (byMass === null || byGauge === null) return [];
    const apart = byMass.minus(byGauge);
    if (apart.value.abs().lte(apart.u.times(2))) return [];
    const [mass, gauge] = [byMass.value.toFixed(0), byGauge.value.toFixed(0)];
    return [
      { code: 'projections-differ', slot: cartridge.name ?? '', mass, gauge, path: cartridge.gauge.end.path },
    ];
  });

/** Projections by weight take a cartridge to its last gram where nothing says what stays in it. */
export const residualKnown: Check = ({ trial: { run } }) => {
  const without = run.cartridges.filter(
    (cartridge) => weighed(cartridge) && cartridge.residualMass.measured === null,
  );
  const [first] = without;
  if (first === undefined) return [];
  const slots = without.flatMap(({ name }) => name ?? []);
  return [{ code: 'residual-taken-as-zero', slots, path: first.fillMass.path }];
};
