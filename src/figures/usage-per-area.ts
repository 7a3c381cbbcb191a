import type { Cartridge, Conditions, Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import type { CartridgeFigure } from './figure.ts';
import { coverageOfGroup, meanCoverageOf } from './mean-coverage.ts';
import { alikeInCoverage, alikeInPaper, groupsBetween, stretchesOf } from './stretches.ts';
import { tonerPerPageOf } from './toner-per-page.ts';

const squareCentimetres = ({ paper }: Conditions) => paper.width.times(paper.height).div(100);

/** Area that a page of the cartridge's run covers on the mean, in cm², times 100. @throws NotDerived */
export function areaCovered(cartridge: Cartridge, run: Run): Measured {
  const { slot, from, to } = cartridge;
  const coverage = meanCoverageOf(cartridge, run);
  if (stretchesOf(run).length === 1) return coverage.mean.times(squareCentimetres(run));
  const inCoverage = alikeInCoverage(slot);
  const groups = groupsBetween(run, from, to, (a, b) => inCoverage(a, b) && alikeInPaper(a, b));
  const covered = groups.map((group) =>
    group.clicks.times(coverageOfGroup(group, slot)).times(squareCentimetres(group.first.under)),
  );
  const clicks = Measured.sum(groups.map((group) => group.clicks));
  return Measured.sum(covered).over(clicks, 'pages of the cartridge');
}

export const usagePerArea: CartridgeFigure = {
  name: 'usage_per_area',
  title: 'usage per area',
  unit: 'mg/cm²',
  per: 'cartridge',
  ofToner: true,
  formula: {
    words:
      'Toner drawn from the cartridge for each square centimetre covered; part of it is waste, not on paper. Where batches have coverages or paper of their own, the area covered is the mean over the pages the cartridge printed.',
    symbols: 'toner_per_page / (page area × coverage)',
    worked: ['toner_per_page / (area cm² × c / 100)'],
  },
  source: 'arithmetic; common practice, no source',
  derive: (cartridge, run) => {
    const area = areaCovered(cartridge, run);
    return tonerPerPageOf(cartridge, run).times(100).over(area, 'coverage');
  },
};
