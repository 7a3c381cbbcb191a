import type { Cartridge, Reading, Run } from '../trial/trial.ts';

/** A weighing of a cartridge, and where the meter stood. */
export interface CartridgeWeighing {
  readonly at: Reading;
  /** g */
  readonly mass: Reading;
}

/** The weighings of a cartridge that were taken, in the order of the meter: fitted, at the end of batches, taken out. */
export function weighingsOfCartridge(
  { slot, from, to, startMass, endMass }: Cartridge,
  { batches }: Run,
): readonly CartridgeWeighing[] {
  const [first, last] = [from.measured?.value, to.measured?.value];
  const onTheWay = batches.flatMap(({ end, cartridgeMasses }): CartridgeWeighing[] => {
    const [mass, at] = [cartridgeMasses.get(slot), end.measured?.value];
    const inside = at !== undefined && first?.lt(at) && (last === undefined || last.gte(at));
    return mass !== undefined && inside ? [{ at: end, mass }] : [];
  });
  return [{ at: from, mass: startMass }, ...onTheWay, { at: to, mass: endMass }].filter(
    ({ at, mass }) => at.measured !== null && mass.measured !== null,
  );
}
