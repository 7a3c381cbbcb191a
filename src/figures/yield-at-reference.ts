import type { Cartridge, Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { type CartridgeFigure, need, type Settings } from './figure.ts';
import { meanCoverageOf } from './mean-coverage.ts';
import { asKnown, pagesOfCartridge, yieldOf } from './yield.ts';

/** The coverage yields are carried to, with its place: whatever set of limits it comes from. */
const referenceCoverage = (settings: Settings): Measured =>
  Measured.exact(settings.referenceCoverage, ['limits', 'reference_coverage']);

/**
 * Toner the cartridge used per page, in mg: from its weights, else from its fill once it is exhausted;
 * null where neither is known.
 */
export function usageForScaling(cartridge: Cartridge, run: Run): Measured | null {
  const { startMass, endMass, fillMass } = cartridge;
  if (startMass.measured !== null && endMass.measured !== null) {
    const used = startMass.measured.minus(endMass.measured);
    return used.times(1000).over(pagesOfCartridge(cartridge, run), 'pages of the cartridge');
  }
  const yielded = yieldOf(cartridge, run);
  if (fillMass.measured === null || yielded.bound !== 'exact') return null;
  return fillMass.measured.times(1000).over(yielded, 'yield');
}

/**
 * A number of pages, at the mean coverage of the cartridge's run unless `printedAt` says otherwise, carried to the reference coverage: in proportion, or by the
 * toner each page takes where the toner used at zero coverage and the usage are known. A life counted in pages is the
 * same at any coverage.
 */
export function atReference(
  pages: Measured,
  cartridge: Cartridge,
  run: Run,
  settings: Settings,
  printedAt?: Measured,
): Measured {
  if (cartridge.life === 'pages') return pages;
  const coverage = meanCoverageOf(cartridge, run);
  const base = run.nonImageUsage(cartridge.slot);
  const usage = base === null ? null : usageForScaling(cartridge, run);
  // At the reference coverage itself the yield is the same whatever is used at none.
  const unscaled = printedAt === undefined && coverage.mean.value.eq(settings.referenceCoverage);
  if (base === null || usage === null || (base.measured === null && unscaled)) {
    const covered = printedAt === undefined ? coverage.times(pages) : pages.times(printedAt);
    return covered.over(referenceCoverage(settings), 'reference_coverage');
  }
  const nonImage = need(base);
  if (usage.value.lt(nonImage.value))
    throw new NotDerived({ code: 'usage-below-non-image', path: base.path });
  const usageAt = (share: Measured): Measured =>
    nonImage.plus(usage.minus(nonImage).times(share.over(coverage.mean, 'coverage')));
  const usageOfPages = printedAt === undefined ? usage : usageAt(printedAt);
  return pages.times(usageOfPages).over(usageAt(referenceCoverage(settings)), 'usage at reference coverage');
}

/** Yield of a cartridge at the reference coverage; pages it had printed before count at the coverage they had. */
export function yieldAtReferenceOf(cartridge: Cartridge, run: Run, settings: Settings): Measured {
  const { usedBefore } = cartridge;
  if (!usedBefore?.coverage) return atReference(yieldOf(cartridge, run), cartridge, run, settings);
  const printed = atReference(pagesOfCartridge(cartridge, run), cartridge, run, settings);
  const before = atReference(usedBefore.pages, cartridge, run, settings, usedBefore.coverage);
  return asKnown(printed.plus(before), cartridge);
}

export const yieldAtReference: CartridgeFigure = {
  name: 'yield_at_reference',
  title: 'yield at reference',
  unit: 'page',
  per: 'cartridge',
  ofWholeRun: true,
  least: true,
  formula: {
    words:
      'The yield the cartridge would have at the reference coverage: in proportion to coverage, or, where the toner used at zero coverage is known, by the toner each page takes. Where batches have coverages of their own, c is the mean over the pages the cartridge printed, other pages included; those whose coverage is not known count for nothing, and the yield is at least so much. A life counted in pages is not scaled.',
    symbols:
      'yield × c / c_ref; with non_image_usage m₀ and usage m: yield × m / (m₀ + (m − m₀) × c_ref / c); over batches: c = Σ nᵢ cᵢ / Σ nᵢ',
    worked: ['yield × c / c_ref', 'yield × m / (m0 + (m − m0) × c_ref / c)', 'yield'],
  },
  source:
    'use in proportion to coverage, a first-order model: ASTM F685-96 (2006), abstract consulted (in theory only, real losses depend on the machine); with m₀ a balance of toner per page; common practice, no source',
  derive: yieldAtReferenceOf,
};
