import type { Cartridge, Patch, Reading, Run } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { type Derived, isDerived, type Settings } from './figure.ts';
import { referencePrint } from './prints.ts';
import { usageForScaling } from './yield-at-reference.ts';

/** A formula with a trial's numbers in the place of its names. */

type Numbers = Readonly<Record<string, Decimal | null | undefined>>;

const of = (reading: Reading | null | undefined): Decimal | null => reading?.measured?.value ?? null;

/** What the names in the formulas of a run stand for. */
function runNumbers(run: Run, settings: Settings): Numbers {
  const { meter, paper, prints } = run;
  const events = (kind: string): Decimal =>
    new Decimal(run.events?.filter((event) => event.kind === kind).length ?? 0);
  return {
    start: of(meter.start),
    end: of(meter.end),
    clicks_per_page: meter.clicksPerPage,
    other_pages: meter.otherPages,
    d: run.duplexShare,
    width: paper.width.div(1000),
    height: paper.height.div(1000),
    grammage: paper.grammage.div(1000),
    capacity: run.containers[0]?.capacity,
    c_ref: settings.referenceCoverage,
    after: of(prints.fixing.after),
    before: of(prints.fixing.before),
    jams: events('jam'),
    stops: events('stop'),
  };
}

function cartridgeNumbers(cartridge: Cartridge, run: Run): Numbers {
  return {
    start: of(cartridge.from),
    end: of(cartridge.to),
    start_mass: of(cartridge.startMass),
    end_mass: of(cartridge.endMass),
    fill_mass: of(cartridge.fillMass),
    residual_mass: of(cartridge.residualMass) ?? new Decimal(0),
    gauge_start: of(cartridge.gauge.start),
    gauge_end: of(cartridge.gauge.end),
    rated_yield: cartridge.ratedYield,
    price: cartridge.price?.amount,
    c: of(run.coverage(cartridge.slot)),
    m0: of(run.nonImageUsage(cartridge.slot)),
    area: run.paper.width.times(run.paper.height).div(100),
  };
}

function patchNumbers(name: string, patch: Patch, run: Run): Numbers {
  if (name.startsWith('colour')) return {};
  const pick = name.startsWith('gloss')
    ? ({ gloss }: Patch['last']): Reading => gloss
    : ({ density }: Patch['last']): Reading => density;
  return {
    last: of(pick(patch.last)),
    first: of(pick(patch.first)),
    reference: of(referencePrint(patch, run, pick)),
  };
}

/**
 * The formula of a derived figure with this trial's numbers. Other figures in it stand for their values of
 * the same part, those of the reference run where they begin with `their_`; a name that has no number here is left as it is.
 */
export function workedFormula(
  derived: Derived,
  all: readonly Derived[],
  theirs: readonly Derived[],
  run: Run,
  settings: Settings,
): string {
  const { figure, of: part, stat } = derived;
  if (figure.name === 'waste_mass') {
    return run.containers
      .map(({ final, tare }) => `(${digits(of(final))} − ${digits(of(tare))})`)
      .join(' + ');
  }
  const cartridge = run.cartridges.find(({ name }) => name === part);
  const patch = run.prints.patches.find(({ name }) => name === part);
  const usage = cartridge && figure.per === 'cartridge' ? attemptUsage(cartridge, run) : null;
  const numbers: Numbers = {
    ...runNumbers(run, settings),
    ...(cartridge && figure.per === 'cartridge' ? { ...cartridgeNumbers(cartridge, run), m: usage } : {}),
    ...(patch && figure.per === 'patch' ? patchNumbers(figure.name, patch, run) : {}),
  };
  const valueOf = (name: string): Decimal | null => {
    const reference = name.startsWith('their_');
    const wanted = name.replace(/^their_/, '');
    const fit = (of: string | null) => (one: Derived) =>
      one.figure.name === wanted && one.of === of && one.stat === null;
    const among = reference ? theirs : all;
    const own = among.find(fit(part));
    const whole = among.find(fit(null));
    const found = own ?? whole;
    return found && found !== derived && isDerived(found.result) ? found.result.value : null;
  };
  const scaled = numbers['m0'] && numbers['m'] ? 1 : 0;
  const formulas = figure.formula.worked ?? [figure.formula.symbols];
  const basis = figure.name === 'sheets' && run.duplexBasis === 'sheets' ? 1 : 0;
  const gauged = figure.name === 'projected_yield' && !numbers['fill_mass'] ? 1 : 0;
  const formula = formulas[Math.min(formulas.length - 1, Math.max(scaled, basis, gauged))] ?? '';
  if (stat !== null) return `${stat} of ${figure.name}`;
  return formula.replace(
    /[a-z][a-z_]*[a-z0]|\b[cdm]\b/g,
    (name) => digits(numbers[name] ?? valueOf(name)) || name,
  );
}

function attemptUsage(cartridge: Cartridge, run: Run): Decimal | null {
  if (cartridge.to.measured === null || cartridge.from.measured === null) return null;
  if (cartridge.to.measured.value.eq(cartridge.from.measured.value)) return null;
  return usageForScaling(cartridge, run)?.value ?? null;
}

/** A number as it stands in a worked formula: exact where short, else eight digits. */
const digits = (value: Decimal | null | undefined): string =>
  value == null ? '' : (value.sd() <= 10 ? value : value.toSignificantDigits(8)).toFixed();
