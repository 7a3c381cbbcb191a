import type { Cartridge, Patch, Reading, Run } from '../trial/trial.ts';
import type { EventKind } from '../trial/schema/run.ts';
import { brief, Decimal } from '../uncertainty/decimal.ts';
import { countInTrial } from './event-rate.ts';
import { type Derived, isDerived, type Settings } from './figure.ts';
import { meanCoverageOf } from './mean-coverage.ts';
import { referencePrint } from './prints.ts';
import { weighed } from './projected-yield.ts';
import { otherPagesIn } from './pages.ts';
import { type Alike, alikeInDuplex, alikeInPaper, alikeInTrial, groupsIn } from './stretches.ts';
import { ifDerived } from '../uncertainty/not-derived.ts';
import { withToner } from './toner-used.ts';
import { areaCovered } from './usage-per-area.ts';
import { wasteMassOf, wasteOfTrial } from './waste-mass.ts';
import { usageForScaling } from './yield-at-reference.ts';

/** A formula with a trial's numbers in the place of its names. */

type Numbers = Readonly<Record<string, Decimal | null | undefined>>;

const of = (reading: Reading | null | undefined): Decimal | null => reading?.measured?.value ?? null;

/** What the names in the formulas of a run stand for. */
function runNumbers(run: Run, settings: Settings): Numbers {
  const { meter, paper, prints } = run;
  const events = (kind: EventKind): Decimal | null => ifDerived(() => new Decimal(countInTrial(run, kind)));
  return {
    start: of(meter.start),
    end: of(meter.end),
    clicks_per_page: meter.clicksPerPage,
    other_pages: otherPagesIn(run),
    waste_of_trial: ifDerived(() => wasteOfTrial(run).value),
    d: run.duplexShare.value,
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
  const coverage = ifDerived(() => meanCoverageOf(cartridge, run).mean);
  const covered = ifDerived(() => areaCovered(cartridge, run));
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
    used_before: cartridge.usedBefore?.pages.value,
    price: cartridge.price?.amount,
    // What other batches printed wears it: only pages of which nobody knows when come off.
    other_pages: run.meter.otherPages,
    c: coverage?.value,
    m0: of(run.nonImageUsage(cartridge.slot)),
    area: coverage && covered?.value.div(coverage.value),
  };
}

function patchNumbers(name: string, patch: Patch, run: Run): Numbers {
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
  if (figure.name === 'sheets' || figure.name === 'paper_mass') {
    const kinds = kindsOfPaper(run, figure.name === 'paper_mass');
    if (kinds.length > 1) return kinds.join(' + ');
  }
  if (stat !== null) return `${stat} of ${figure.name}`;
  const cartridge = figure.per === 'cartridge' ? run.cartridges.find(({ name }) => name === part) : undefined;
  const patch = figure.per === 'patch' ? run.prints.patches.find(({ name }) => name === part) : undefined;
  if (figure.per === 'cartridge' && cartridge === undefined) return inAll(figure.name, all, run);
  if (patch && figure.name.startsWith('colour')) return colours(figure.name, patch, run);

  const numbers: Numbers = {
    ...runNumbers(run, settings),
    ...(cartridge ? { ...cartridgeNumbers(cartridge, run), m: usageOf(cartridge, run) } : {}),
    ...(patch ? patchNumbers(figure.name, patch, run) : {}),
  };
  const theirPart = run.against?.cartridges.find(({ slot }) => slot === cartridge?.slot)?.name ?? null;
  const valueOf = (name: string): Decimal | null => {
    if (name.startsWith('their_')) return figureOf(theirs, name.slice('their_'.length), theirPart);
    return name === figure.name ? null : (figureOf(all, name, part) ?? figureOf(all, name, null));
  };
  const formulas = figure.formula.worked ?? [figure.formula.symbols];
  const formula = formulas[choice(figure.name, run, cartridge, numbers)] ?? formulas[0] ?? '';
  return formula.replace(
    /[a-z][a-z_]*[a-z0]|\b[cdm]\b/g,
    (name) => digits(numbers[name] ?? valueOf(name)) || name,
  );
}

/** Sheets, or their mass, of each kind of paper and two-sided share that was printed on, as they are worked. */
function kindsOfPaper(run: Run, mass: boolean): string[] {
  const alike: Alike = (one, other) =>
    alikeInTrial(one, other) && alikeInDuplex(one, other) && (!mass || alikeInPaper(one, other));
  const groups = ifDerived(() => groupsIn(run, alike)) ?? [];
  return groups
    .filter(({ first }) => !first.other)
    .map(({ clicks, first: { under } }) => {
      const { paper, duplexShare } = under;
      const [pages, d] = [digits(clicks.value.div(run.meter.clicksPerPage)), digits(duplexShare.value)];
      const sheets = run.duplexBasis === 'pages' ? `${pages} × (1 − ${d} / 2)` : `${pages} / (1 + ${d})`;
      const by = [paper.width, paper.height, paper.grammage].map((one) => digits(one.div(1000)));
      return mass ? `${sheets} × ${by.join(' × ')}` : sheets;
    });
}

/** Which of a figure's formulas was used, where it has two. */
function choice(name: string, run: Run, cartridge: Cartridge | undefined, numbers: Numbers): number {
  if (name === 'sheets') return run.duplexBasis === 'sheets' ? 1 : 0;
  if (name === 'yield') return cartridge?.listed === false ? 1 : cartridge?.usedBefore ? 2 : 0;
  if (name === 'projected_yield') return cartridge && !weighed(cartridge) && numbers['gauge_end'] ? 1 : 0;
  if (name === 'waste_per_thousand' || name === 'container_life') return isApart(run) ? 1 : 0;
  if (name === 'yield_at_reference' && cartridge?.life === 'pages') return 2;
  return numbers['m0'] && numbers['m'] ? 1 : 0;
}

/** The waste of other batches was weighed apart. */
const isApart = (run: Run): boolean | null =>
  ifDerived(() => !wasteOfTrial(run).value.eq(wasteMassOf(run).value));

function figureOf(all: readonly Derived[], name: string, of: string | null): Decimal | null {
  const found = all.find((one) => one.figure.name === name && one.of === of && one.stat === null);
  return found && isDerived(found.result) ? found.result.value : null;
}

/** A figure over all cartridges: the sum of theirs, or of what each slot costs. */
function inAll(name: string, all: readonly Derived[], run: Run): string {
  if (name !== 'cost_per_thousand') {
    return withToner(run)
      .map((cartridge) => digits(figureOf(all, name, cartridge.name)))
      .join(' + ');
  }
  const slots = [...new Set(run.cartridges.map(({ slot }) => slot))];
  return slots
    .map((slot) => {
      const own = run.cartridges.filter((cartridge) => cartridge.slot === slot);
      const prices = own.map(({ price }) => digits(price?.amount)).join(' + ');
      const yields = own
        .map((cartridge) => digits(figureOf(all, 'yield_at_reference', cartridge.name)))
        .join(' + ');
      return own.length === 1 ? `1000 × ${prices} / ${yields}` : `1000 × (${prices}) / (${yields})`;
    })
    .join(' + ');
}

/** The two colours of a difference. */
function colours(name: string, patch: Patch, run: Run): string {
  const lab = (readings: readonly Reading[]): string =>
    `[${readings.map((one) => digits(of(one))).join(', ')}]`;
  const places = [0, 1, 2] as const;
  const other =
    name === 'colour_difference'
      ? patch.first.lab
      : places.map((place) => referencePrint(patch, run, (print) => print.lab[place]));
  return `ΔE00(${lab(patch.last.lab)}, ${lab(other)})`;
}

function usageOf(cartridge: Cartridge, run: Run): Decimal | null {
  // Where its pages are not known, no formula of this cartridge that was derived has them in it.
  return ifDerived(() => usageForScaling(cartridge, run)?.value ?? null);
}

/** A number as it stands in a worked formula. */
const digits = (value: Decimal | null | undefined): string => (value == null ? '' : brief(value));
