import type { Cartridge, Conditions, Reading, Run } from '../trial/trial.ts';
import { type Decimal, ZERO } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { need } from './figure.ts';
import { pagesOf } from './pages.ts';
import {
  type Alike,
  alikeInCoverage,
  type Group,
  groupsBetween,
  overPagesOfTrial,
  stretchesOf,
  uncoveredIn,
} from './stretches.ts';

/** The coverage of the pages a cartridge printed, in percent of the page: their mean where batches have their own. */
export interface MeanCoverage {
  readonly mean: Measured;
  /** A number of pages times the coverage. */
  times(pages: Measured): Measured;
  /** Where it stands. */
  readonly path: Reading['path'];
}

/**
 * The coverage of a group, which rests on all that give it. Of pages that are not of the trial nothing may be known but
 * that they took no less than none.
 *
 * @throws NotDerived
 */
export function coverageOfGroup({ first, all }: Group, slot: string | null): Measured {
  if (first.uncovered) return NONE_AT_LEAST;
  const readings = new Set(all.map(({ under }) => under.coverage(slot)));
  return need(first.under.coverage(slot)).among([...readings].map(need));
}

/** The coverages of the pages a cartridge printed, each once, in percent of the page. @throws NotDerived */
export function coveragesOf({ slot, from, to }: Cartridge, run: Run): readonly Decimal[] {
  return groupsBetween(run, from, to, alikeInCoverage(slot))
    .filter(({ first }) => !first.uncovered)
    .map((group) => coverageOfGroup(group, slot).value);
}

const NONE_AT_LEAST = Measured.exact(ZERO).as('at_least');

const atOne = (reading: Reading, coverage: Measured): MeanCoverage => ({
  mean: coverage,
  times: (pages) => pages.times(coverage),
  path: reading.path,
});

/**
 * The coverage that the pages of a cartridge's run had: one that all of them had is taken as it stands, several are
 * weighted with their pages, c = Σ nᵢ cᵢ / Σ nᵢ.
 *
 * @throws NotDerived while a coverage, or where a batch of another ends, is not known; `coverage-zero`
 */
export function meanCoverageOf(cartridge: Cartridge, run: Run): MeanCoverage {
  const coverage = coverageBetween(run, cartridge.slot, cartridge.from, cartridge.to);
  if (!coverage.mean.value.isZero()) return coverage;
  const unknown = coverage.mean.bound === 'exact' ? null : uncoveredIn(run);
  throw new NotDerived(
    unknown ? { code: 'reading-missing', path: unknown } : { code: 'coverage-zero', path: coverage.path },
  );
}

/** The coverage of the pages of the trial, of some slots together. @throws NotDerived */
export function coverageOfTrial(run: Run, slots: readonly (string | null)[]): Measured {
  const inAll = ({ coverage }: Conditions): Measured =>
    Measured.sum(slots.map((slot) => need(coverage(slot))));
  if (stretchesOf(run).length === 1) return inAll(run);
  const alike: Alike = (one, other) => slots.every((slot) => alikeInCoverage(slot)(one, other));
  const pages = pagesOf(run);
  return overPagesOfTrial(run, pages, alike, (of, under) => of.times(inAll(under))).over(pages, 'pages');
}

/** The same of the pages between two readings of the meter. @throws NotDerived */
export function coverageBetween(run: Run, slot: string | null, from: Reading, to: Reading): MeanCoverage {
  const own = run.coverage(slot);
  if (stretchesOf(run).length === 1) return atOne(own, need(own));
  const groups = groupsBetween(run, from, to, alikeInCoverage(slot));
  const [first, ...others] = groups;
  if (first === undefined) return atOne(own, need(own));
  const reading = first.first.under.coverage(slot);
  if (others.length === 0) return atOne(reading, coverageOfGroup(first, slot));
  const sum = Measured.sum(groups.map((group) => group.clicks.times(coverageOfGroup(group, slot))));
  const clicks = Measured.sum(groups.map((group) => group.clicks));
  return {
    mean: sum.over(clicks, 'pages of the cartridge'),
    times: (pages) => pages.times(sum).over(clicks, 'pages of the cartridge'),
    path: reading.path,
  };
}
