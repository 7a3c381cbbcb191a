import type { Path } from '../uncertainty/path.ts';
import type { Instruments } from './instruments.ts';
import type { RunData } from './schema/trial.ts';
import { sameTyped } from './serial.ts';
import type { Cartridge, InspectionFinding } from './trial.ts';

/** What was looked at and found in a run, and at the delivery of its lot. */
export interface Inspected {
  /** What the run is held against; null where none of it was recorded. */
  readonly inspection: readonly InspectionFinding[] | null;
  /**
   * At delivery, of cartridges that are not in this run; and those of nothing found on a serial number that no cartridge
   * of the run has.
   */
  readonly delivered: readonly InspectionFinding[];
}

/**
 * The findings of a run, told from those at delivery of other cartridges: these have a serial number that none of its own
 * has, or are of another lot. While one of its own has no serial number, any of them may be of it, and is held against
 * it; but that nothing was found on what may be another cartridge proves nothing.
 *
 * @param lot the lot of the trial; null where it names none
 */
export function inspectedOf(
  { inspection: data, meter }: RunData,
  path: Path,
  cartridges: readonly Cartridge[],
  lot: string | null,
  instruments: Instruments,
): Inspected {
  if (data == null) return { inspection: null, delivered: [] };
  const findings = data.map((one, index): InspectionFinding => ({
    path: [...path, 'inspection', index],
    stage: one.stage ?? null,
    part: one.part ?? null,
    slot: one.slot ?? null,
    serial: one.serial ?? null,
    lot: one.lot ?? null,
    severity: one.severity,
    note: one.note ?? null,
  }));
  for (const one of findings) if (one.severity === null) instruments.pending.push([...one.path, 'severity']);
  // Before the meter is read nothing was tried: the cartridge that is taken for granted is none of those looked at.
  const untried = meter?.start == null && meter?.end == null;
  const own = untried ? cartridges.filter(({ listed }) => listed) : cartridges;
  const isOther = ({ stage, serial, lot: named, severity }: InspectionFinding): boolean => {
    if (serial === null) return false;
    const ofLot = own.filter((one) => {
      const its = one.lot ?? lot;
      return named === null || its === null || sameTyped(named, its);
    });
    if (ofLot.some((one) => sameTyped(one.serial, serial))) return false;
    if (severity === 'none') return true;
    return stage === 'delivery' && !ofLot.some((one) => one.serial === null);
  };
  const ofRun = findings.filter((one) => !isOther(one));
  return {
    inspection: ofRun.length === 0 && findings.length > 0 ? null : ofRun,
    delivered: findings.filter(isOther),
  };
}
