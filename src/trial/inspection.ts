import type { Path } from '../uncertainty/path.ts';
import type { Instruments } from './instruments.ts';
import type { RunData } from './schema/trial.ts';
import type { Cartridge, InspectionFinding } from './trial.ts';

/** What was looked at and found in a run, and at the delivery of its lot. */
export interface Inspected {
  /** What the run is held against; null where none of it was recorded. */
  readonly inspection: readonly InspectionFinding[] | null;
  /** At delivery, of cartridges of the lot that are not in this run. */
  readonly delivered: readonly InspectionFinding[];
}

/**
 * The findings of a run, told from those at delivery of other cartridges of its lot: these have a serial number that
 * none of its own has. While one of its own has no serial number, any of them may be of it, and it is held against all.
 */
export function inspectedOf(
  { inspection: data, meter }: RunData,
  path: Path,
  cartridges: readonly Cartridge[],
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
  const known = new Set(own.map(({ serial }) => serial));
  const isOther = ({ stage, serial }: InspectionFinding): boolean =>
    stage === 'delivery' && serial !== null && !known.has(null) && !known.has(serial);
  const ofRun = findings.filter((one) => !isOther(one));
  return {
    inspection: ofRun.length === 0 && findings.length > 0 ? null : ofRun,
    delivered: findings.filter(isOther),
  };
}
