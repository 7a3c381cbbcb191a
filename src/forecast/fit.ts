import { chiSquareTail } from '../statistics/chi-square.ts';
import { fisherTail } from '../statistics/fisher.ts';
import { solve } from '../statistics/solve.ts';
import {
  akaike,
  lineAt,
  type LinePoint,
  type StraightLine,
  straightLine,
} from '../statistics/straight-line.ts';
import type { Matrix } from '../statistics/weighing.ts';
import type { TriedPoint } from './tried.ts';

/** The points of one coverage: they are of one document, so that its coverage is off by the same in all of them. */
export interface Level {
  readonly coverage: number;
  readonly coverageU: number;
  readonly points: readonly TriedPoint[];
}

/** The least a page takes, whatever its coverage. */
export interface Floor {
  /** mg a page */
  readonly least: number;
  readonly variance: number;
  /** Coverage below which it holds, in percent. */
  readonly below: number;
}

/** Whether the points lie on the model; of F against the scatter at one coverage, of χ² against the readings alone. */
export interface LackOfFit {
  readonly test: 'F' | 'chi-square';
  readonly statistic: number;
  readonly over: number;
  /** Of F; null of χ². */
  readonly under: number | null;
  readonly p: number;
}

/** Mass a page against coverage. */
export interface Fit {
  readonly levels: readonly Level[];
  /** Points: cartridges, or runs; of one tried at several coverages a point at each. */
  readonly n: number;
  /** Cartridges, or runs, that the points are of. */
  readonly sources: number;
  /** m₀ in mg, m₁ in mg per percent of coverage; of the levels above the floor where there is one. */
  readonly line: StraightLine;
  /** The levels' means as the line was drawn through them, and those on the floor. */
  readonly onLine: readonly LevelMean[];
  readonly onFloor: readonly LevelMean[];
  /** Covariances of the means on the line, by the weighings they have in common; null where they have none. */
  readonly shared: Matrix | null;
  readonly floor: Floor | null;
  /** Whether there were coverages and points enough to look for a floor. */
  readonly lookedForFloor: boolean;
  /**
   * Points less parameters, and fewer than there are cartridges where these gave several points; 0 where nothing is left
   * to tell the scatter from one to the next from.
   */
  readonly freedom: number;
  /** Standard deviation from cartridge to cartridge, as a share of what they take, beside what the readings explain. */
  readonly scatter: number;
  readonly lackOfFit: LackOfFit | null;
}

/** The mean of a level, with its variance in parts. */
export interface LevelMean extends LinePoint {
  readonly level: Level;
  /** Of `varY`, what comes of the readings; the rest is scatter. */
  readonly ofReadings: number;
  /** What each of its points counts for in it. */
  readonly shares: readonly number[];
}

/** A floor takes a parameter more; with fewer points than this nothing is left to judge it by. */
export const FEWEST_FOR_FLOOR = 6;

/** More than tenfold from cartridge to cartridge is no scatter. */
const MOST_SCATTER = 10;

/** Points by their coverage, the lowest first. */
export function levelsOf(points: readonly TriedPoint[]): Level[] {
  const levels = new Map<string, { coverage: number; coverageU: number; points: TriedPoint[] }>();
  for (const point of points) {
    const { coverage, coverageU } = point;
    const key = `${coverage} ${coverageU}`;
    const level = levels.get(key) ?? { coverage, coverageU, points: [] };
    level.points.push(point);
    levels.set(key, level);
  }
  return [...levels.values()].toSorted((a, b) => a.coverage - b.coverage);
}

/** How many coverages points have, whatever is known of each. */
export const coveragesIn = (points: readonly TriedPoint[]): number =>
  new Set(points.map(({ coverage }) => coverage)).size;

/**
 * Mass a page against coverage, m = m₀ + m₁·c, and no less than a floor where one is better by Akaike's criterion.
 *
 * The variance of a point is that of its readings, and of a scatter τ·m from cartridge to cartridge. τ is the one with
 * which the squares of the residuals, weighted with the inverse of their covariance, add up to their degrees of freedom (Mandel and Paule,
 * Analytical Chemistry 42 (1970) 1194, from memory); 0 where the readings alone explain them.
 *
 * @returns null of fewer than two coverages
 */
export function fitOf(points: readonly TriedPoint[]): Fit | null {
  const levels = levelsOf(points);
  const n = points.length;
  const sources = new Set(points.map(({ source }) => source)).size;
  const plain = modelOf(levels, 0, n - 2);
  if (plain === null) return null;
  const lookedForFloor = coveragesIn(points) > 2 && n >= FEWEST_FOR_FLOOR;
  const low = lookedForFloor ? floorIn(levels, n, plain) : 0;
  const model = low > 0 ? (modelOf(levels, low, n - 3) ?? plain) : plain;
  return {
    levels,
    n,
    sources,
    line: model.line,
    onLine: model.onLine,
    onFloor: model.onFloor,
    shared: model.shared,
    floor: model.floor,
    lookedForFloor,
    // Cartridges tell how they differ by themselves, however many points each of them gives.
    freedom: Math.min(n - (model.floor === null ? 2 : 3), sources < n ? sources - 1 : Infinity),
    scatter: model.scatter,
    lackOfFit: lackOfFit(levels, model, n),
  };
}

/** A model drawn at one scatter. */
interface Drawn {
  readonly line: StraightLine;
  readonly onLine: readonly LevelMean[];
  readonly onFloor: readonly LevelMean[];
  readonly shared: Matrix | null;
  readonly floor: Floor | null;
  readonly scatter: number;
  /** Squares of the points about the means of their levels, and of these about the model; each over its variance. */
  readonly within: number;
  readonly between: number;
}

/** The model with the lowest `low` levels on a floor, at the scatter that fits it. */
function modelOf(levels: readonly Level[], low: number, freedom: number): Drawn | null {
  const at = (scatter: number): Drawn | null => drawn(levels, low, scatter);
  const squares = (one: Drawn | null): number => (one === null ? 0 : one.within + one.between);
  if (freedom < 1 || squares(at(0)) <= freedom) return at(0);
  const scatter = solve((tau) => freedom - squares(at(tau)), 0, 1);
  return at(Math.min(scatter, MOST_SCATTER));
}

function drawn(levels: readonly Level[], low: number, scatter: number): Drawn | null {
  const means = levels.map((level) => meanOf(level, scatter));
  const [onFloor, onLine] = [means.slice(0, low), means.slice(low)];
  const shared = sharedBy(onLine);
  const line = straightLine(onLine, shared);
  if (line === null) return null;
  const weight = onFloor.reduce((sum, { varY }) => sum + 1 / varY, 0);
  const least = onFloor.reduce((sum, { y, varY }) => sum + y / varY, 0) / weight;
  const floor =
    low === 0 ? null : { least, variance: 1 / weight, below: (least - line.intercept) / line.slope };
  const off = onFloor.reduce((sum, { y, varY }) => sum + (y - least) ** 2 / varY, 0);
  const within = means.reduce((sum, { level, y }) => sum + squaresWithin(level, scatter, y), 0);
  return { line, onLine, onFloor, shared, floor, scatter, within, between: line.chiSquare + off };
}

/**
 * Covariances of the means of levels: a weighing between two coverages belongs to both, so that what is too much at one is
 * too little at the other. Of a level on a floor they are left out.
 */
function sharedBy(means: readonly LevelMean[]): Matrix | null {
  if (!means.some(({ level }) => level.points.some(({ shared }) => shared.size > 0))) return null;
  const between = (one: LevelMean, other: LevelMean): number => {
    let sum = 0;
    for (const [i, a] of one.level.points.entries())
      for (const [j, b] of other.level.points.entries())
        sum += (one.shares[i] ?? 0) * (other.shares[j] ?? 0) * (a.shared.get(b) ?? 0);
    return sum;
  };
  return means.map((one) => means.map((other) => (one === other ? 0 : between(one, other))));
}

/** Variance of one point: of its readings, and of the scatter at its level. */
const varianceOf = ({ massU }: TriedPoint, typical: number, scatter: number): number =>
  massU ** 2 + (scatter * typical) ** 2;

const typicalOf = ({ points }: Level): number =>
  points.reduce((sum, { mass }) => sum + mass, 0) / points.length;

function meanOf(level: Level, scatter: number): LevelMean {
  const typical = typicalOf(level);
  const weights = level.points.map((point) => 1 / varianceOf(point, typical, scatter));
  const sum = weights.reduce((all, w) => all + w, 0);
  const share = (i: number): number => (weights[i] ?? 0) / sum;
  return {
    level,
    x: level.coverage,
    varX: level.coverageU ** 2,
    y: level.points.reduce((all, { mass }, i) => all + share(i) * mass, 0),
    varY: 1 / sum,
    ofReadings: level.points.reduce((all, { massU }, i) => all + (share(i) * massU) ** 2, 0),
    shares: level.points.map((_, i) => share(i)),
  };
}

function squaresWithin(level: Level, scatter: number, mean: number): number {
  const typical = typicalOf(level);
  return level.points.reduce(
    (sum, point) => sum + (point.mass - mean) ** 2 / varianceOf(point, typical, scatter),
    0,
  );
}

/**
 * How many of the lowest levels lie on a floor, 0 for none: where line and floor meet between the last of them and the
 * next, and Akaike's criterion, at the scatter of the plain line, is better than without.
 */
function floorIn(levels: readonly Level[], n: number, plain: Drawn): number {
  const without = akaike(plain.within + plain.between, n, 3);
  let [best, low] = [without ?? 0, 0];
  for (let tried = 1; tried <= levels.length - 2; tried++) {
    const one = drawn(levels, tried, plain.scatter);
    const [last, next] = [levels[tried - 1]?.coverage ?? 0, levels[tried]?.coverage ?? 0];
    if (one?.floor == null || one.line.slope <= 0 || one.floor.below < last || one.floor.below > next)
      continue;
    const criterion = akaike(one.within + one.between, n, 4);
    if (criterion !== null && criterion < best) [best, low] = [criterion, tried];
  }
  return low;
}

/**
 * Lack of fit: the levels about the model against the points about their levels, by F where coverages were tried more
 * than once; else the residuals against the readings alone, by χ², which cannot tell scatter from a bent line.
 */
function lackOfFit(levels: readonly Level[], model: Drawn, n: number): LackOfFit | null {
  const over = levels.length - (model.floor === null ? 2 : 3);
  const under = n - levels.length;
  if (over < 1) return null;
  if (under >= 1 && model.within > 0) {
    const statistic = model.between / over / (model.within / under);
    return { test: 'F', statistic, over, under, p: fisherTail(statistic, over, under) };
  }
  if (under >= 1) return null;
  const statistic = drawn(levels, model.onFloor.length, 0)?.between ?? 0;
  return { test: 'chi-square', statistic, over, under: null, p: chiSquareTail(statistic, over) };
}

/** What the model says of a coverage, in mg a page. */
export const massAt = ({ line, floor }: Pick<Fit, 'line' | 'floor'>, coverage: number): number =>
  floor !== null && coverage < floor.below ? floor.least : lineAt(line, coverage);

/** Least and greatest coverage tried, in percent. */
export const rangeOf = ({ levels }: Fit): readonly [least: number, greatest: number] => [
  levels[0]?.coverage ?? 0,
  levels.at(-1)?.coverage ?? 0,
];

/** A cartridge that two trials have at one coverage, as far as serial numbers tell; null where there is none. */
export function sameAtOneCoverage({
  levels,
}: Fit): { readonly serial: string; readonly files: string[] } | null {
  for (const { points } of levels)
    for (const [index, { serial, file, source }] of points.entries()) {
      const other = points.slice(0, index).find((one) => one.serial === serial && one.source !== source);
      if (serial !== null && other !== undefined) return { serial, files: [other.file, file] };
    }
  return null;
}

/** Whether a cartridge, or what has its serial number, has points at more than one coverage. */
export function atSeveralCoverages({ levels }: Fit): boolean {
  const seen = new Map<unknown, number>();
  return levels.some(({ points }, level) =>
    points.some(({ source, serial }) =>
      [source, serial].some((one) => {
        const before = one === null ? level : (seen.get(one) ?? level);
        seen.set(one, before);
        return before !== level;
      }),
    ),
  );
}
