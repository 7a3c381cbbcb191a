import type { Cartridge, Reading, Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { need } from './figure.ts';
import { alikeInCoverage, type Group, groupsBetween, type Stretch, stretchesOf } from './stretches.ts';

/** The coverage of the pages a cartridge printed, in percent of the page: their mean where batches have their own. */
export interface MeanCoverage {
  readonly mean: Measured;
  /** A number of pages times the coverage. */
  times(pages: Measured): Measured;
  /** Where it stands. */
  readonly path: Reading['path'];
}

/** The coverage of a group, which rests on all that give it. @throws NotDerived */
export function coverageOfGroup({ first, all }: Group, slot: string | null): Measured {
  const own = need(first.under.coverage(slot));
  const readings = new Set(all.map(({ under }) => under.coverage(slot)));
  const others = [...readings].flatMap(({ measured }) => (measured && measured !== own ? [measured] : []));
  return others.length === 0 ? own : own.among(others);
}

/** Pages that are not of the trial, of which no coverage is given. */
const isUnknown = ({ other, under }: Stretch, run: Run): boolean =>
  other && under.coverages === run.coverages;

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
  if (coverage.mean.value.isZero()) throw new NotDerived({ code: 'coverage-zero', path: coverage.path });
  return coverage;
}

/** The same of the pages between two readings of the meter. @throws NotDerived */
export function coverageBetween(run: Run, slot: string | null, from: Reading, to: Reading): MeanCoverage {
  const own = run.coverage(slot);
  if (stretchesOf(run).length === 1) return atOne(own, need(own));
  const groups = groupsBetween(
    run,
    from,
    to,
    (one, other) => alikeInCoverage(slot)(one, other) && isUnknown(one, run) === isUnknown(other, run),
  );
  const [first, ...others] = groups;
  if (first === undefined) return atOne(own, need(own));
  const reading = first.first.under.coverage(slot);
  if (others.length === 0 && !isUnknown(first.first, run))
    return atOne(reading, coverageOfGroup(first, slot));
  // Of other pages nothing may be known but that they took no less than none: then the mean is at least so much.
  const unknown = groups.filter(({ first: one }) => isUnknown(one, run));
  const known = Measured.sum(
    groups
      .filter((group) => !unknown.includes(group))
      .map((group) => group.clicks.times(coverageOfGroup(group, slot))),
  );
  const sum = unknown.length === 0 ? known : known.as('at_least');
  const clicks = Measured.sum(groups.map((group) => group.clicks));
  return {
    mean: sum.over(clicks, 'pages of the cartridge'),
    times: (pages) => pages.times(sum).over(clicks, 'pages of the cartridge'),
    path: reading.path,
  };
}
