import { type Estimate, estimateOf } from './estimate.ts';
import { type Fit, rangeOf } from './fit.ts';
import { usageOf } from './usage.ts';

/** What one further cartridge, or run, takes for a page of one coverage. */
export interface AtCoverage {
  /** % of the page */
  readonly coverage: number;
  /** mg a page */
  readonly estimate: Estimate;
}

const PLACES = 60;

/** The fit from the least coverage tried to the greatest, with what is expected of one further cartridge or run. */
export function bandOf(fit: Fit): AtCoverage[] {
  const [least, greatest] = rangeOf(fit);
  const places = Array.from({ length: PLACES + 1 }, (_, i) => least + ((greatest - least) * i) / PLACES);
  // Where a floor ends the line has a corner.
  const corner =
    fit.floor !== null && fit.floor.below > least && fit.floor.below < greatest ? [fit.floor.below] : [];
  return [...places, ...corner]
    .toSorted((a, b) => a - b)
    .flatMap((coverage) => {
      const usage = usageOf(fit, [{ share: 1, coverage: { value: coverage, u: 0 } }], 1);
      return usage === null
        ? []
        : [{ coverage, estimate: estimateOf(usage.mass, usage.parts, fit.freedom > 0) }];
    });
}
