import { CURRENCY, type Stat } from '../trial/catalogue.ts';
import { ATTRIBUTES } from '../trial/schema/prints.ts';
import { STAGES } from '../trial/schema/run.ts';
import type { InspectionFinding, Run, SeenPrint } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { NotDerived, type Reason } from '../uncertainty/not-derived.ts';
import { type ByEye, type Derived, type Figure, isDerived, type ReadAt, type Settings } from './figure.ts';
import { stillInAtEnd } from './run-to-end.ts';
import { leastWorst, seenApart } from './seen-apart.ts';
import { greatestOf, leastOf, leastWithBounds } from './least-greatest.ts';
import { meanOfReadings } from './mean-of-readings.ts';
import { printingTimes, whilePrinting } from './printing-times.ts';
import { withToner } from './toner-used.ts';

/** Every figure of the list for a run, in order: each with its value or the reason why it has none. */
export function deriveAll(figures: readonly Figure[], run: Run, settings: Settings): readonly Derived[] {
  return figures.flatMap((figure) => derive(figure, run, settings));
}

function derive(figure: Figure, run: Run, settings: Settings): Derived[] {
  const unit = figure.unit === CURRENCY ? currencyOf(run) : figure.unit;
  const bounds = boundsOf(figure, run);
  const entry = (
    of: string | null,
    stat: Stat | null,
    formula: () => Measured,
    { alone = false, judgeable = true } = {},
  ): Derived => ({ figure, of, stat, alone, judgeable, unit, result: attempt(formula), bounds });
  switch (figure.per) {
    case 'trial':
      return [entry(null, null, () => figure.derive(run, settings))];
    case 'cartridge': {
      const each = (figure.ofToner ? withToner(run) : run.cartridges).map((cartridge) =>
        entry(cartridge.name, null, () => figure.derive(cartridge, run, settings), {
          alone: cartridge.name === null,
          judgeable: !(figure.ofWholeRun && stillInAtEnd(cartridge, run)),
        }),
      );
      const all: Derived[] = [];
      const { total, least } = figure;
      if (total && each.some(({ alone }) => !alone)) all.push(entry(null, null, () => total(run, settings)));
      if (least)
        all.push(
          entry(null, 'least', () => leastWithBounds(each.filter(({ judgeable }) => judgeable).map(valueOf))),
        );
      return [...each, ...all];
    }
    case 'patch':
      // With no patch at all the figure is of those still to be read.
      return run.prints.patches.length === 0
        ? [entry(null, null, () => noPatches(run))]
        : run.prints.patches.map((patch) => entry(patch.name, null, () => figure.derive(patch, run)));
    case 'findings':
      return inspected(run).map(([of, findings]) => entry(of, null, () => figure.derive(findings())));
    case 'prints':
      return judgedByEye(run).map(([of, seen]) => ({
        ...entry(of, null, () => figure.derive(seen ?? missingByEye(run))),
        byEye: seen === null ? undefined : byEyeOf(seen),
      }));
    case 'readings': {
      let readings: readonly ReadAt[] | undefined;
      const times = printingTimes(run);
      const values = (): readonly ReadAt[] => (readings ??= figure.derive(run));
      const measured = (): Measured[] => whilePrinting(values(), times).map((one) => one.measured);
      const from = { path: [...run.path, 'ambient'], unit: figure.unit };
      return [
        entry(null, 'least', () => leastOf(measured())),
        entry(null, 'greatest', () => greatestOf(measured())),
        entry(null, 'mean', () => meanOfReadings(values(), times, from)),
      ];
    }
  }
}

/** The bounds that a figure of the run is known by better than by value ± U; none of most. */
function boundsOf(figure: Figure, run: Run): Derived['bounds'] {
  const bounds = figure.per === 'trial' ? figure.bounds : undefined;
  return bounds && ((tail) => bounds(run, tail));
}

/** The value of a figure that others are made from. @throws NotDerived where it has none */
function valueOf({ result }: Derived): Measured {
  if (!isDerived(result)) throw new NotDerived(result);
  return result;
}

/** The currency of a run's prices; one, since the rules let no other pass. */
const currencyOf = (run: Run): string =>
  run.cartridges.find(({ price }) => price !== null)?.price?.currency ?? CURRENCY;

/** What was found in all, at every stage, and on every part that was looked at. */
function inspected({
  inspection,
  path,
}: Run): [of: string | null, findings: () => readonly InspectionFinding[]][] {
  const missing = (): never => {
    throw new NotDerived({ code: 'reading-missing', path: [...path, 'inspection'] });
  };
  if (inspection === null) return [null, ...STAGES].map((of) => [of, missing]);
  const parts = [...new Set(inspection.flatMap(({ part }) => part ?? []))].filter((part) => !isStage(part));
  return [
    [null, () => inspection],
    ...STAGES.map((stage): [string, () => readonly InspectionFinding[]] => {
      const found = inspection.filter((one) => one.stage === stage);
      // Something was recorded, but nothing of this stage: it may not have been looked at yet.
      return [stage, found.length === 0 && inspection.length > 0 ? missing : () => found];
    }),
    ...parts.map((part): [string, () => readonly InspectionFinding[]] => [
      part,
      () => inspection.filter((one) => one.part === part),
    ]),
  ];
}

/**
 * The prints judged by eye in all, by attribute, and by slot; null where nothing is known of one: of something that
 * was not looked at, though something else was.
 */
function judgedByEye({
  prints: { byEye },
  cartridges,
}: Run): (readonly [of: string | null, seen: readonly SeenPrint[] | null])[] {
  const own = (wanted: (one: SeenPrint) => boolean): readonly SeenPrint[] | null => {
    const seen = byEye?.filter(wanted) ?? [];
    return byEye === null || (seen.length === 0 && byEye.length > 0) ? null : seen;
  };
  const named = [...cartridges, ...(byEye ?? [])].flatMap(({ slot }) => slot ?? []);
  const slots = [...new Set(named)].filter((slot) => !(ATTRIBUTES as readonly string[]).includes(slot));
  return [
    [null, byEye],
    ...ATTRIBUTES.map((of) => [of, own(({ attribute }) => attribute === of)] as const),
    ...slots.map((of) => [of, own(({ slot }) => slot === of)] as const),
  ];
}

const noPatches = ({ path }: Run): never => {
  throw new NotDerived({ code: 'reading-missing', path: [...path, 'prints', 'patches'] });
};

const missingByEye = ({ path, prints }: Run): never => {
  const code = prints.byEye === null ? 'reading-missing' : 'no-readings';
  throw new NotDerived({ code, path: [...path, 'prints', 'by_eye'] });
};

function byEyeOf(seen: readonly SeenPrint[]): ByEye {
  const unread = seen.find(({ severity }) => severity === null) ?? null;
  const least = Measured.exact(leastWorst(seen));
  return { least: unread === null ? least : least.as('at_least'), apart: seenApart(seen), unread };
}

const isStage = (part: string): boolean => (STAGES as readonly string[]).includes(part);

/** The one place where a formula's refusal becomes a reason. */
function attempt(formula: () => Measured): Measured | Reason {
  try {
    return formula();
  } catch (refusal) {
    if (refusal instanceof NotDerived) return refusal.reason;
    throw refusal;
  }
}
