import { weighFor } from '../statistics/straight-line.ts';
import { dot } from '../statistics/weighing.ts';
import type { PartOf } from './estimate.ts';
import { type Fit, massAt, rangeOf } from './fit.ts';
import type { Kind, KindCoverage } from './mix.ts';

/** Share of the pages with their coverage in one slot. */
export interface Portion {
  readonly share: number;
  readonly coverage: KindCoverage;
}

/** How far a mix reaches beyond the coverages tried. */
export interface Beyond {
  /** Of the pages, between 0 and 1. */
  readonly share: number;
  readonly kinds: readonly string[];
  /** What the uncertainty is multiplied by where it is forecast all the same. */
  readonly factor: number;
}

/** What pages of a mix take on the mean, in mg, and where its relative variance comes from. */
export interface Usage {
  readonly mass: number;
  readonly coverage: KindCoverage;
  readonly parts: readonly PartOf[];
}

/** At the least, and where pages lie only just outside. */
const LEAST_FACTOR = 2;

/** Digits of a percentage that nobody means. */
const NEAR = 1e-9;

/**
 * What of a mix lies beyond the coverages tried; null where nothing does. The factor is 2, and as much more as the pages
 * lie beyond on the mean, in widths of the range tried.
 */
export function beyondOf(fit: Fit, pages: readonly (Portion & { readonly name: string })[]): Beyond | null {
  const [least, greatest] = rangeOf(fit);
  const apart = ({ value }: KindCoverage): number => Math.max(least - value, value - greatest, 0);
  const outside = pages.filter(({ share, coverage }) => share > 0 && apart(coverage) > NEAR);
  if (outside.length === 0) return null;
  const distance = outside.reduce((sum, { share, coverage }) => sum + share * apart(coverage), 0);
  return {
    share: outside.reduce((sum, { share }) => sum + share, 0),
    kinds: outside.map(({ name }) => name),
    factor: LEAST_FACTOR + distance / (greatest - least),
  };
}

/** The pages of a mix as one slot sees them; null where the mix does not give its coverage of every kind. */
export function portionsOf(
  kinds: readonly Kind[],
  coverageIn: (kind: Kind) => KindCoverage | null,
): readonly (Portion & { readonly name: string })[] | null {
  const portions = kinds.map((kind) => ({ kind, coverage: coverageIn(kind) }));
  return portions.every(({ coverage }) => coverage !== null)
    ? portions.map(({ kind: { name, share }, coverage }) => ({ name, share, coverage: coverage ?? NONE }))
    : null;
}

const NONE: KindCoverage = { value: 0, u: 0 };

/** What the fit's parameters count for in a mean over pages: intercept, slope and floor. */
interface Gradient {
  readonly intercept: number;
  readonly slope: number;
  readonly floor: number;
}

/** Variance of a mean over pages, by what it comes of. */
interface Split {
  readonly readings: number;
  readonly cartridges: number;
  readonly coverages: number;
}

/**
 * Toner or waste a page over a mix, of one further cartridge (or run) like those tried: parts of its relative variance,
 * each times the square of `factor`.
 *
 * @returns null where the model says nothing above zero
 */
export function usageOf(fit: Fit, pages: readonly Portion[], factor: number): Usage | null {
  const low = (coverage: number): boolean => fit.floor !== null && coverage < fit.floor.below;
  const gradient = { intercept: 0, slope: 0, floor: 0 };
  let [mass, value, ofMix, covered] = [0, 0, 0, 0];
  for (const { share, coverage } of pages) {
    mass += share * massAt(fit, coverage.value);
    value += share * coverage.value;
    covered += (share * coverage.u) ** 2;
    if (low(coverage.value)) gradient.floor += share;
    else {
      gradient.intercept += share;
      gradient.slope += share * coverage.value;
      ofMix += (share * fit.line.slope * coverage.u) ** 2;
    }
  }
  if (!(mass > 0)) return null;
  const { readings, cartridges, coverages } = splitOf(fit, gradient);
  const freedom = fit.freedom > 0 ? fit.freedom : Infinity;
  const part = (name: PartOf['part'], variance: number, known = freedom): PartOf => ({
    part: name,
    variance: (variance / mass ** 2) * factor ** 2,
    freedom: known,
  });
  return {
    mass,
    coverage: { value, u: Math.sqrt(covered) },
    parts: [
      part('readings', readings + readingsOfOne(fit)),
      part('cartridges-tried', cartridges),
      part('coverages-tried', coverages),
      part('coverage-of-mix', ofMix, Infinity),
      part('next-cartridge', (fit.scatter * mass) ** 2),
    ],
  };
}

/**
 * Variance in mg² of the readings of one point. What cartridges scatter is told from their readings, and no better than
 * these allow: the scatter alone, less the readings, has fewer degrees of freedom than the residuals it comes of, and
 * none where it is 0. So one further cartridge is forecast as it would be weighed.
 */
function readingsOfOne({ levels }: Fit): number {
  const all = levels.flatMap(({ points }) => points);
  return all.reduce((sum, { massU }) => sum + massU ** 2, 0) / all.length;
}

/** The variance of a mean over pages, in its parts: how much each level's mean and coverage move it. */
function splitOf({ line, onLine, onFloor, shared }: Fit, by: Gradient): Split {
  const split = { readings: 0, cartridges: 0, coverages: 0 };
  const { varIntercept, varSlope, covariance, slope } = line;
  const atIntercept = by.intercept * varIntercept + by.slope * covariance;
  const atSlope = by.intercept * covariance + by.slope * varSlope;
  const weigh = weighFor(onLine, slope, shared);
  const moves = weigh(onLine.map(({ x }) => atIntercept + x * atSlope));
  for (const [i, { varX, varY, ofReadings }] of onLine.entries()) {
    const moved = moves[i] ?? 0;
    split.readings += moved ** 2 * ofReadings + moved * dot(shared?.[i] ?? [], moves);
    split.cartridges += moved ** 2 * (varY - ofReadings);
    split.coverages += (moved * slope) ** 2 * varX;
  }
  // The parts are of the places as read; the line's own variance is of these as they were adjusted.
  const whole = by.intercept * atIntercept + by.slope * atSlope;
  const sum = split.readings + split.cartridges + split.coverages;
  const scale = sum > 0 ? whole / sum : 1;
  for (const part of ['readings', 'cartridges', 'coverages'] as const) split[part] *= scale;
  const weight = onFloor.reduce((all, { varY }) => all + 1 / varY, 0);
  for (const { varY, ofReadings } of onFloor) {
    const moved = by.floor / varY / weight;
    split.readings += moved ** 2 * ofReadings;
    split.cartridges += moved ** 2 * (varY - ofReadings);
  }
  return split;
}
