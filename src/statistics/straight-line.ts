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
 * The best straight line through points with errors in y and in x, all independent: D. York, N. M. Evensen, M. L.
 * Martínez and J. De Basabe Delgado, Unified equations for the slope, intercept, and standard errors of the best straight
 * line, American Journal of Physics 72 (2004) 367, equations 13 (from memory). Where every x is exact it is weighted
 * least squares, with the covariance of JCGM 100:2008, H.3, times the variance of a point of weight one.
 *
 * @returns null where the points have one x only, from which no slope follows
 */
export function straightLine(points: readonly LinePoint[]): StraightLine | null {
  const slope = slopeOf(points);
  if (slope === null) return null;
  const { weights, x, y, adjusted } = centred(points, slope);
  const sum = weights.reduce((all, w) => all + w, 0);
  const mean = weights.reduce((all, w, i) => all + w * (adjusted[i] ?? 0), 0) / sum;
  const spread = weights.reduce((all, w, i) => all + w * ((adjusted[i] ?? 0) - mean) ** 2, 0);
  // The adjusted places are told from the mean place of the points.
  const middle = x + mean;
  const varSlope = 1 / spread;
  const intercept = y - slope * x;
  return {
    intercept,
    slope,
    varIntercept: 1 / sum + middle ** 2 * varSlope,
    varSlope,
    covariance: -middle * varSlope,
    chiSquare: points.reduce(
      (all, point, i) => all + (weights[i] ?? 0) * (point.y - y - slope * (point.x - x)) ** 2,
      0,
    ),
    freedom: points.length - 2,
  };
}

/** The slope whose own weights give it again; null where none follows. */
function slopeOf(points: readonly LinePoint[]): number | null {
  let slope = slopeBetween(points, 0);
  if (points.every(({ varX }) => varX === 0)) return slope;
  for (let step = 0; step < MOST_STEPS && slope !== null; step++) {
    const next = slopeBetween(points, slope);
    if (next === null || Math.abs(next - slope) <= 1e-15 * Math.abs(next)) return next;
    slope = next;
  }
  return slope;
}

/** Weights, mean place of the points, and where each lies on the line, told from that place; for a slope. */
function centred(points: readonly LinePoint[], slope: number) {
  const weights = points.map(({ varX, varY }) => 1 / (varY + slope ** 2 * varX));
  const sum = weights.reduce((all, w) => all + w, 0);
  const x = points.reduce((all, point, i) => all + (weights[i] ?? 0) * point.x, 0) / sum;
  const y = points.reduce((all, point, i) => all + (weights[i] ?? 0) * point.y, 0) / sum;
  const adjusted = points.map(
    (point, i) => (weights[i] ?? 0) * ((point.x - x) * point.varY + slope * (point.y - y) * point.varX),
  );
  return { weights, x, y, adjusted };
}

/** The slope that follows with the weights of another; null where the points do not differ in x. */
function slopeBetween(points: readonly LinePoint[], before: number): number | null {
  const { weights, x, y, adjusted } = centred(points, before);
  const along = (of: (point: LinePoint) => number): number =>
    points.reduce((all, point, i) => all + (weights[i] ?? 0) * (adjusted[i] ?? 0) * of(point), 0);
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
