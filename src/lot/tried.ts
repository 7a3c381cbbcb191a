import { stillInAtEnd } from '../figures/run-to-end.ts';
import type { Assessed } from '../judge/assess.ts';
import type { Judged } from '../judge/judge.ts';
import type { Limit } from '../judge/limits.ts';
import { type Ground, verdictOf } from '../judge/verdict.ts';
import { spanOf } from '../pool/overlap.ts';
import { timeOf } from '../pool/trend.ts';
import { SEVERITIES, type SeverityWord } from '../trial/schema/severities.ts';
import { lotOf } from '../trial/lot.ts';
import { machineOf } from '../trial/machine.ts';
import { sameTyped } from '../trial/serial.ts';
import type { Cartridge, InspectionFinding, Run, Trial } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';

/** What the trial of a cartridge says of it. */
export type Said = 'passes' | 'fails' | 'says-nothing';

/** Why it says so: the ground of its trial's verdict, as far as it is about this cartridge; or its own end. */
export type Why =
  | { readonly kind: 'failed-in-use' }
  | { readonly kind: 'still-in-at-end' }
  | { readonly kind: 'limits'; readonly ground: Ground; readonly judged: readonly Judged[] };

/** One cartridge of a lot that was tried. */
export interface Tried {
  readonly file: string;
  /** `black`, `black#2`; null for the one cartridge of a trial without slots. */
  readonly name: string | null;
  readonly slot: string | null;
  readonly lot: string | null;
  readonly serial: string | null;
  /** Serial of the machine, else its label; null where the trial names none. */
  readonly machine: string | null;
  /** Meter readings it was in between; null where they tell nothing. */
  readonly span: readonly [from: string, to: string] | null;
  /** Day of the trial; null where it does not say. */
  readonly day: string | null;
  readonly seconds: number;
  readonly said: Said;
  readonly why: Why;
  /** The limits its trial was judged by that could fail or void it, but for those on other slots. */
  readonly limits: readonly Limit[];
}

/** The cartridges of a judged trial, and what it says of each. */
export function triedOf(result: Assessed): Tried[] {
  const { trial, file } = result;
  const time = timeOf(result);
  if (onlyDelivered(trial)) return [];
  return trial.run.cartridges.map((cartridge) => ({
    file,
    name: cartridge.name,
    slot: cartridge.slot,
    lot: lotOf(cartridge, trial),
    serial: cartridge.serial,
    machine: machineOf(trial),
    span: spanOf(cartridge, trial.run),
    day: time?.day ?? null,
    seconds: time?.seconds ?? 0,
    ...saidOf(result, cartridge),
    limits: result.agreed.limits.filter(
      ({ figure, of, effect }) =>
        effect !== 'advises' && (figure.per !== 'cartridge' || of === null || of === cartridge.slot),
    ),
  }));
}

/** Nothing was tried: the file is of a delivery, and names no cartridge of its own. */
export const onlyDelivered = ({ run }: Trial): boolean =>
  run.delivered.length > 0 && isUnread(run) && !run.cartridges.some(({ listed }) => listed);

/** The meter of a run is not read yet. */
export const isUnread = ({ meter }: Pick<Run, 'meter'>): boolean =>
  meter.start.measured === null && meter.end.measured === null;

/**
 * A cartridge that failed in use fails, whatever else was found. Any other is judged by the limits of its trial but
 * for those on other cartridges: what was missed by one alone is not held against the ones beside it. Nor is a limit
 * on findings that is missed by findings of other slots only.
 */
function saidOf(
  { trial: { run }, judged, silences }: Assessed,
  cartridge: Cartridge,
): Pick<Tried, 'said' | 'why'> {
  if (cartridge.failed) return { said: 'fails', why: { kind: 'failed-in-use' } };
  if (stillInAtEnd(cartridge, run)) return { said: 'says-nothing', why: { kind: 'still-in-at-end' } };
  const about = judged.filter(({ derived: { figure, of }, limit, outcome }) => {
    if (figure.name === 'failed_cartridges') return false;
    if (figure.per === 'findings' && outcome === 'missed')
      return !elsewhere(worseThan(limit.max, of, run.inspection ?? []), cartridge);
    return figure.per !== 'cartridge' || of === null || of === cartridge.name;
  });
  const silent = silences.filter((silence) => {
    if (silence.code === 'unspoken-finding' && silence.of === 'inspection')
      return !elsewhere(worseThan(MAJOR, null, run.inspection ?? []), cartridge);
    return silence.code !== 'unspoken-failure';
  });
  const { verdict, ground } = verdictOf(about, silent);
  const said = ({ pass: 'passes', fail: 'fails', inconclusive: 'says-nothing' } as const)[verdict];
  return { said, why: { kind: 'limits', ground, judged: about } };
}

const rankOf = (severity: SeverityWord): number => SEVERITIES.indexOf(severity);
const MAJOR = new Decimal(rankOf('major'));

/** Findings worse than a limit, of those it is on: all, or those of a stage or part. */
const worseThan = (
  max: Decimal | null,
  of: string | null,
  findings: readonly InspectionFinding[],
): readonly InspectionFinding[] =>
  findings.filter(
    ({ severity, stage, part }) =>
      severity !== null && max?.lt(rankOf(severity)) && (of === null || stage === of || part === of),
  );

/** Whether all findings are of other cartridges; one without a slot or a serial number may be of any. */
const elsewhere = (
  findings: readonly InspectionFinding[],
  { slot: own, serial: ownSerial }: Cartridge,
): boolean =>
  findings.length > 0 &&
  findings.every(
    ({ slot, serial }) =>
      (slot !== null && slot !== own) ||
      (serial !== null && ownSerial !== null && !sameTyped(serial, ownSerial)),
  );
