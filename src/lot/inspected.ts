import type { Assessed } from '../judge/assess.ts';
import { lotOf } from '../trial/lot.ts';
import { SEVERITIES, type SeverityWord } from '../trial/schema/severities.ts';
import { sameTyped, typed } from '../trial/serial.ts';
import type { Cartridge, InspectionFinding, Run } from '../trial/trial.ts';
import { isUnread, onlyDelivered } from './tried.ts';

/** One cartridge of a lot that was looked at on delivery. */
export interface Inspected {
  readonly file: string;
  /** `black`, `black#2`, of a cartridge that was tried; null of any other. */
  readonly name: string | null;
  readonly lot: string | null;
  readonly serial: string | null;
  /** It is one of a trial's own, not only named by a list. */
  readonly own: boolean;
  /** The worst that was found on it. */
  readonly severity: SeverityWord;
  /** What that was, where it is said. */
  readonly note: string | null;
}

/**
 * The cartridges that a trial says were looked at on delivery: those of its own that a finding is of, or may be, and
 * those it names by their serial numbers. A cartridge with nothing to find has a finding of severity none; an
 * inspection that is `[]` says so of all.
 */
export function inspectedOf({ trial, file }: Assessed): Inspected[] {
  const { run } = trial;
  const lot = trial.data.lot?.id ?? null;
  const own = onlyDelivered(trial)
    ? []
    : run.cartridges.flatMap((cartridge): Inspected[] => {
        const found = atDelivery(run).filter((finding) => mayBeOf(finding, cartridge));
        // Where the meter is not read, a cartridge that is taken for granted was not looked at either.
        const granted = !cartridge.listed && isUnread(run);
        if (found.length === 0 && (granted || run.inspection?.length !== 0)) return [];
        const { name, serial } = cartridge;
        return [{ file, name, lot: lotOf(cartridge, trial), serial, own: true, ...worstOf(found) }];
      });
  const unmatched = atDelivery(run).filter(({ serial }) => !own.some((one) => sameTyped(one.serial, serial)));
  const beside = run.delivered.filter(isSeen).filter(({ stage }) => stage === 'delivery');
  const named = new Map<string, SeenFinding[]>();
  for (const finding of [...unmatched, ...beside]) {
    if (finding.serial === null) continue;
    const key = JSON.stringify([typed(finding.serial), finding.lot ?? lot]);
    named.set(key, [...(named.get(key) ?? []), finding]);
  }
  const others = [...named.values()].map((found): Inspected => ({
    file,
    name: null,
    lot: found.find((one) => one.lot !== null)?.lot ?? lot,
    serial: found[0]?.serial ?? null,
    own: false,
    ...worstOf(found),
  }));
  return [...own, ...others];
}

/** A finding that is not still to come. */
type SeenFinding = InspectionFinding & { readonly severity: SeverityWord };

const isSeen = (finding: InspectionFinding): finding is SeenFinding => finding.severity !== null;

const atDelivery = ({ inspection }: Run): readonly SeenFinding[] =>
  (inspection ?? []).filter(isSeen).filter(({ stage }) => stage === 'delivery');

/** Of its serial number; else of its slot, or of any where no slot is named. */
const mayBeOf = ({ serial, slot }: InspectionFinding, cartridge: Cartridge): boolean =>
  serial === null ? slot === null || slot === cartridge.slot : sameTyped(serial, cartridge.serial);

function worstOf(found: readonly SeenFinding[]): Pick<Inspected, 'severity' | 'note'> {
  const [worst] = found.toSorted((a, b) => rankOf(b.severity) - rankOf(a.severity));
  const { severity, note, part } = worst ?? { severity: 'none', note: null, part: null };
  const said = [part, note].filter((one) => one !== null).join(': ');
  return { severity, note: said === '' ? null : said };
}

const rankOf = (severity: SeverityWord): number => SEVERITIES.indexOf(severity);

/**
 * Each cartridge once, at the worst that any file says of it: a list may be named by several trials, and a cartridge be
 * looked at again when it is tried. Beside a list, a tried cartridge without a serial number may be one of those listed: it
 * adds nothing to them, and what was found on it takes the place of the soundest.
 */
export function eachOnce(inspected: readonly Inspected[]): readonly Inspected[] {
  const known = new Map<string, Inspected>();
  for (const one of inspected) {
    const key = JSON.stringify(one.serial === null ? [one.file, one.name] : [typed(one.serial)]);
    const before = known.get(key);
    const worse = before === undefined || rankOf(one.severity) > rankOf(before.severity);
    known.set(key, worse ? one : before);
  }
  const all = [...known.values()];
  if (inspected.every(({ own, serial }) => own || serial === null)) return all;
  const found = all.filter(({ serial, severity }) => serial === null && severity !== 'none');
  const named = all
    .filter(({ serial }) => serial !== null)
    .toSorted((a, b) => rankOf(b.severity) - rankOf(a.severity) || Number(b.own) - Number(a.own));
  return [...named.slice(0, Math.max(0, named.length - found.length)), ...found];
}
