import { sumOf } from './sample.ts';
import { dot, type Matrix, weighBy, type Weigh } from './weighing.ts';

/** A point of a straight line, with what is known of it; all in one unit for each axis. */
export interface LinePoint {
  readonly x: number;
  readonly y: number;
  /** Variance of x; 0 where it is exact. */
  readonly varX: number;
  /** Variance of y, above zero. */
  readonly varY: number;
}

/** A straight line y = intercept + slope · x, with the variances that follow from those of its points. */
export interface StraightLine {
  readonly intercept: number;
  readonly slope: number;
  readonly varIntercept: number;
  readonly varSlope: number;
  readonly covariance: number;
  /** Σ W (y − intercept − slope · x)²: near the degrees of freedom where line and variances are right. */
  readonly chiSquare: number;
  /** Points less two. */
  readonly freedom: number;
}

/** It settles in some tens of steps; where x says next to nothing it may take long. */
const MOST_STEPS = 1000;

/**
 * The best straight line through points with errors in y and in x: D. York, N. M. Evensen, M. L.
 * Martínez and J. De Basabe Delgado, Unified equations for the slope, intercept, and standard errors of the best straight
 * line, American Journal of Physics 72 (2004) 367, equations 13 (from memory). Where every x is exact it is weighted
 * least squares, with the covariance of JCGM 100:2008, H.3, times the variance of a point of weight one.
 *
 * Where the errors in y have `shared` covariances, the weights are the inverse of the matrix of all of them (Aitken's
 * generalised least squares, from memory), with which the same equations give the least Σ Σ rᵢ Wᵢⱼ rⱼ.
 *
 * @param shared covariances of the values of y beside the diagonal; null where they are independent
 * @returns null where the points have one x only, from which no slope follows
 */
export function straightLine(
  points: readonly LinePoint[],
  shared: Matrix | null = null,
): StraightLine | null {
  const slope = slopeOf(points, shared);
  if (slope === null) return null;
  const { weigh, sum, x, y, adjusted, residuals } = centred(points, slope, shared);
  const ones = weigh(points.map(() => 1));
  const mean = dot(ones, adjusted) / sum;
  const apart = adjusted.map((one) => one - mean);
  const spread = dot(apart, weigh(apart));
  // The adjusted places are told from the mean place of the points.
  const middle = x + mean;
  const varSlope = 1 / spread;
  return {
    intercept: y - slope * x,
    slope,
    varIntercept: 1 / sum + middle ** 2 * varSlope,
    varSlope,
    covariance: -middle * varSlope,
    chiSquare: dot(residuals, weigh(residuals)),
    freedom: points.length - 2,
  };
}

/** The slope whose own weights give it again; null where none follows. */
function slopeOf(points: readonly LinePoint[], shared: Matrix | null): number | null {
  let slope = slopeBetween(points, 0, shared);
  for (let step = 0; step < MOST_STEPS && slope !== null; step++) {
    const next = slopeBetween(points, slope, shared);
    if (next === null || Math.abs(next - slope) <= 1e-15 * Math.abs(next)) return next;
    slope = next;
  }
  return slope;
}

/** Weights of residuals from a line of this slope. */
export const weighFor = (points: readonly LinePoint[], slope: number, shared: Matrix | null): Weigh =>
  weighBy(
    points.map(({ varX, varY }) => varY + slope ** 2 * varX),
    shared,
  );

/** Weights, mean place of the points, and where each lies on the line, told from that place; for a slope. */
function centred(points: readonly LinePoint[], slope: number, shared: Matrix | null) {
  const weigh = weighFor(points, slope, shared);
  const ones = weigh(points.map(() => 1));
  const sum = sumOf(ones);
  const mean = (of: (point: LinePoint) => number): number => dot(ones, points.map(of)) / sum;
  const [x, y] = [mean((point) => point.x), mean((point) => point.y)];
  const residuals = points.map((point) => point.y - y - slope * (point.x - x));
  const pulled = weigh(residuals);
  const adjusted = points.map((point, i) => point.x - x + slope * point.varX * (pulled[i] ?? NaN));
  return { weigh, sum, x, y, adjusted, residuals };
}

/** The slope that follows with the weights of another; null where the points do not differ in x. */
function slopeBetween(points: readonly LinePoint[], before: number, shared: Matrix | null): number | null {
  const { weigh, x, y, adjusted } = centred(points, before, shared);
  const along = (of: (point: LinePoint) => number): number => dot(adjusted, weigh(points.map(of)));
  const spread = along((point) => point.x - x);
  if (points.every((point) => point.x === points[0]?.x) || spread === 0) return null;
  return along((point) => point.y - y) / spread;
}

/** The line's value at x. */
export const lineAt = ({ intercept, slope }: StraightLine, x: number): number => intercept + slope * x;

/** Variance of the line's value at x. */
export const lineVarianceAt = (
  { varIntercept, varSlope, covariance }: Pick<StraightLine, 'varIntercept' | 'varSlope' | 'covariance'>,
  x: number,
): number => varIntercept + 2 * x * covariance + x ** 2 * varSlope;

/**
 * Akaike's criterion with the correction for small samples, of a least-squares fit whose variance is estimated with
 * it: n ln(χ²/n) + 2k + 2k(k + 1)/(n − k − 1), k the parameters, that variance among them. The smaller of two is the
 * better fit. Hurvich and Tsai, Biometrika 76 (1989) 297 (from memory).
 *
 * @returns null of too few points: n ≤ k + 1
 */
export function akaike(chiSquare: number, n: number, k: number): number | null {
  if (n <= k + 1) return null;
  return n * Math.log(chiSquare / n) + 2 * k + (2 * k * (k + 1)) / (n - k - 1);
}
