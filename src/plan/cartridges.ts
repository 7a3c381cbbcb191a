import { need } from '../figures/figure.ts';
import type { Cartridge, Trial } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { given, planned, type Planned } from './planned.ts';

/** What a slot takes for the run. */
export interface SlotNeed {
  /** Null where the trial names no slots. */
  readonly slot: string | null;
  /** Cartridges to have; those already begun count by what is left of them. */
  readonly cartridges: Planned<number>;
  /** Pages a new one prints at the trial's coverage. */
  readonly pagesEach: Planned<Decimal>;
  /** g */
  readonly toner: Planned<Decimal>;
}

/** What each slot takes for so many pages. */
export function slotNeeds(trial: Trial, pages: Decimal, referenceCoverage: Decimal): readonly SlotNeed[] {
  const slots = new Map<string | null, Cartridge>();
  for (const cartridge of trial.run.cartridges) {
    if (!slots.has(cartridge.slot)) slots.set(cartridge.slot, cartridge);
  }
  return [...slots].map(([slot, cartridge]) => {
    const pagesEach = planned(() => pagesOfNew(trial, cartridge, referenceCoverage));
    return {
      slot,
      pagesEach,
      cartridges: planned(() => countFor(trial, cartridge, pages, referenceCoverage)),
      toner: planned(() => tonerPerPage(trial, cartridge, referenceCoverage).times(pages).div(1000)),
    };
  });
}

/**
 * Pages a new cartridge prints at the trial's coverage: its rated yield, which is at the reference
 * coverage, carried over as a yield is; in proportion, or by the toner each page takes.
 */
function pagesOfNew({ run }: Trial, cartridge: Cartridge, referenceCoverage: Decimal): Decimal {
  const rated = given(cartridge.ratedYield, ...cartridge.path, 'rated_yield');
  if (cartridge.life === 'pages') return rated;
  const coverage = coverageOf(run.coverage(cartridge.slot));
  const ratio = coverage.div(referenceCoverage);
  const base = run.nonImageUsage(cartridge.slot)?.measured?.value;
  const fill = cartridge.fillMass.measured?.value;
  if (base === undefined || fill === undefined) return rated.div(ratio);
  const usage = fill.times(1000).div(rated);
  if (usage.lt(base)) return rated.div(ratio);
  return rated.times(usage).div(base.plus(usage.minus(base).times(ratio)));
}

function coverageOf(reading: Parameters<typeof need>[0]): Decimal {
  const coverage = need(reading).value;
  if (coverage.isZero()) throw new NotDerived({ code: 'coverage-zero', path: reading.path });
  return coverage;
}

function countFor(trial: Trial, cartridge: Cartridge, pages: Decimal, referenceCoverage: Decimal): number {
  const each = pagesOfNew(trial, cartridge, referenceCoverage);
  const left = Decimal.max(0, each.minus(cartridge.usedBefore?.pages.value ?? 0));
  return 1 + Decimal.max(0, pages.minus(left)).div(each).ceil().toNumber();
}

/** mg of toner a page takes in a slot: as planned, else from fill and rated yield. @throws NotDerived */
function tonerPerPage({ data, ...trial }: Trial, cartridge: Cartridge, referenceCoverage: Decimal): Decimal {
  if (cartridge.life === 'pages') throw new NotDerived({ code: 'no-such-part', part: 'toner in it' });
  const planned = data.target?.toner_per_page?.value;
  if (planned) return planned;
  const { measured } = cartridge.fillMass;
  const fill = given(measured, 'target', 'toner_per_page').value;
  const left = cartridge.residualMass.measured?.value ?? 0;
  return fill
    .minus(left)
    .times(1000)
    .div(pagesOfNew({ data, ...trial }, cartridge, referenceCoverage));
}
