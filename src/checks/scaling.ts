import { coveragesOf, meanCoverageOf } from '../figures/mean-coverage.ts';
import { withToner } from '../figures/toner-used.ts';
import { usageForScaling } from '../figures/yield-at-reference.ts';
import { yieldOf } from '../figures/yield.ts';
import type { Problem } from '../problems/problem.ts';
import { Decimal, ONE } from '../uncertainty/decimal.ts';
import { valueOf } from '../judge/facts.ts';
import type { Check } from './check.ts';

/** Shares of the toner used that might go into pages of no coverage; the last is a great deal. */
const SHARES = ['0.05', '0.1', '0.2'] as const;
const FAR = 2;

/**
 * Where toner use at zero coverage is not known and the trial's coverage is far from the reference, the
 * yield at reference is a first-order model; how far it would move is shown for a few shares s of the
 * usage m: yield / (s + (1 − s) c_ref / c).
 */
export const farFromReference: Check = ({ trial: { run }, derived, agreed }) =>
  withToner(run).flatMap((cartridge): Problem[] => {
    const scaled = valueOf(derived, 'yield_at_reference', cartridge.name);
    if (scaled === null || run.nonImageUsage(cartridge.slot) !== null) return [];
    const [coverage, pages] = [meanCoverageOf(cartridge, run), yieldOf(cartridge, run)];
    const ratio = agreed.referenceCoverage.div(coverage.mean.value);
    if (ratio.lte(FAR) && ratio.gte(ONE.div(FAR))) return [];
    const moved = SHARES.map((share): [string, string] => {
      const s = new Decimal(share);
      const at = pages.value.div(s.plus(ONE.minus(s).times(ratio)));
      return [s.times(100).toFixed(), at.toFixed(0)];
    });
    return [
      {
        code: 'far-from-reference',
        slot: cartridge.name ?? '',
        coverage: coverage.mean.value.toSignificantDigits(4).toFixed(),
        reference: agreed.referenceCoverage.toFixed(),
        pages: scaled.value.toFixed(0),
        moved,
        path: coverage.path,
      },
    ];
  });

/** Toner use at zero coverage is known, but not the usage it would have to be set against. */
export const usageKnown: Check = ({ trial: { run }, derived }) =>
  withToner(run).flatMap((cartridge): Problem[] => {
    const base = run.nonImageUsage(cartridge.slot);
    if (!base?.measured || valueOf(derived, 'yield_at_reference', cartridge.name) === null) return [];
    if (usageForScaling(cartridge, run) !== null) return [];
    return [{ code: 'proportional-scaling', slot: cartridge.name ?? '', path: base.path }];
  });

/**
 * Toner at zero coverage is where a line through what was tried ends. Pages printed beyond those coverages, or a yield
 * carried beyond them, rest on a line that nobody tried there.
 */
export const withinTried: Check = ({ trial: { run }, derived, agreed: { referenceCoverage } }) =>
  [...new Set(withToner(run).map(({ slot }) => slot))].flatMap((slot): Problem[] => {
    const base = run.nonImageUsage(slot);
    if (!base?.tried) return [];
    const { from, to } = base.tried;
    const printed = withToner(run)
      .filter(
        (cartridge) =>
          cartridge.slot === slot &&
          valueOf(derived, 'yield_at_reference', cartridge.name) !== null &&
          usageForScaling(cartridge, run) !== null,
      )
      .flatMap((cartridge) => coveragesOf(cartridge, run));
    // A yield that stays at its coverage is the same whatever is used at none.
    if (printed.every((coverage) => coverage.eq(referenceCoverage))) return [];
    const beyond = (coverage: Decimal): boolean => coverage.lt(from) || coverage.gt(to);
    const asText = (coverage: Decimal): string => coverage.toSignificantDigits(4).toFixed();
    const pages = [...new Set(printed.filter(beyond).map(asText))];
    const reference = beyond(referenceCoverage) ? asText(referenceCoverage) : null;
    if (pages.length === 0 && reference === null) return [];
    const tried = { from: asText(from), to: asText(to) };
    return [{ code: 'usage-beyond', slot: slot ?? '', ...tried, pages, reference, path: base.path }];
  });
