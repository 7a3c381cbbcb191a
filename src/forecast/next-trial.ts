import { straightLine } from '../statistics/straight-line.ts';
import { estimateOf } from './estimate.ts';
import type { Fit, LevelMean } from './fit.ts';
import { type Portion, usageOf } from './usage.ts';

/** A trial of one more cartridge, and what it would do to the uncertainty of the toner a page. */
export interface NextTrial {
  /** % of the page */
  readonly coverage: number;
  /** U in mg a page, as it is and as it would be. */
  readonly before: number;
  readonly after: number;
}

/**
 * The coverage at which one more cartridge would make the toner a page of a mix best known, should scatter and readings
 * stay what they are: tried again with the document of a coverage tried.
 */
export function nextTrial(fit: Fit, pages: readonly Portion[], factor: number): NextTrial | null {
  const halfWidth = (of: Fit): number | null => {
    const usage = usageOf(of, pages, factor);
    return usage && estimateOf(usage.mass, usage.parts, true).U;
  };
  const before = halfWidth(fit);
  if (before === null || fit.freedom < 1) return null;
  const options = fit.levels.flatMap(({ coverage }, index): NextTrial[] => {
    const after = halfWidth(withOneMore(fit, index));
    return after === null ? [] : [{ coverage, before, after }];
  });
  return options.toSorted((a, b) => a.after - b.after)[0] ?? null;
}

/** The fit with one more point at a level, of the variance that points have there. */
function withOneMore(fit: Fit, index: number): Fit {
  const more = (mean: LevelMean): LevelMean => {
    if (mean.level !== fit.levels[index]) return mean;
    const { points } = mean.level;
    const readings = points.reduce((sum, { massU }) => sum + massU ** 2, 0) / points.length;
    const scattered = readings + (fit.scatter * mean.y) ** 2;
    const varY = 1 / (1 / mean.varY + 1 / scattered);
    const [old, added] = [varY / mean.varY, varY / scattered];
    return { ...mean, varY, ofReadings: old ** 2 * mean.ofReadings + added ** 2 * readings };
  };
  const onLine = fit.onLine.map(more);
  // What a mean has in common with others falls as its old points count for less in it.
  const kept = fit.onLine.map(({ varY }, i) => (onLine[i]?.varY ?? varY) / varY);
  const shared =
    fit.shared?.map((row, i) => row.map((one, j) => one * (kept[i] ?? 1) * (kept[j] ?? 1))) ?? null;
  return {
    ...fit,
    n: fit.n + 1,
    freedom: fit.freedom + 1,
    onLine,
    onFloor: fit.onFloor.map(more),
    shared,
    line: straightLine(onLine, shared) ?? fit.line,
  };
}
