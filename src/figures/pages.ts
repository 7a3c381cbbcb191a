import type { Run } from '../trial/trial.ts';
import { type Decimal, ZERO } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import { ifDerived } from '../uncertainty/not-derived.ts';
import { need, type RunFigure } from './figure.ts';
import { otherIn } from './stretches.ts';

/** Pages of the run: what the meter moved, in pages, less those that are not of the trial. */
export const pagesOf = (run: Run): Measured => {
  const [moved, other] = [clicksOf(run), otherIn(run)];
  return inPages(other === null ? moved : moved.minus(other.clicks), run);
};

/** Pages the meter moved on, those of other batches included; of `other_pages` nobody knows what printed them. */
export const pagesWithOther = (run: Run): Measured => inPages(clicksOf(run), run);

/** What the meter moved, in clicks. */
const clicksOf = ({ meter }: Run): Measured => need(meter.end).minus(need(meter.start));

const inPages = (clicks: Measured, run: Run): Measured =>
  clicks
    .over(clicksPerPage(run), 'clicks_per_page')
    .minus(Measured.exact(run.meter.otherPages, [...run.path, 'meter', 'other_pages']));

/** Pages of the batches that are not of the trial, in clicks, as far as their ends were read. */
export const otherClicksSoFar = ({ batches, meter }: Run): Decimal => {
  let from = meter.start.measured?.value;
  return batches.reduce((sum, { end, other }) => {
    const [before, to] = [from, end.measured?.value];
    from = to ?? from;
    return other && before && to ? sum.plus(to.minus(before)) : sum;
  }, ZERO);
};

/** Pages the meter counted that are not of the trial, as far as it is known how many; none of most runs. */
export const otherPagesIn = (run: Run): Decimal =>
  (ifDerived(() => otherIn(run))?.clicks.value ?? ZERO)
    .div(run.meter.clicksPerPage)
    .plus(run.meter.otherPages);

/** What the meter counts for a page. */
export const clicksPerPage = ({ meter, path }: Run): Measured =>
  Measured.exact(meter.clicksPerPage, [...path, 'meter', 'clicks_per_page']);

export const pages: RunFigure = {
  name: 'pages',
  title: 'pages',
  unit: 'page',
  per: 'trial',
  formula: {
    words:
      'What the meter moved, in pages, less the pages that are not of the trial: other_pages, or those of the batches that are marked as other.',
    symbols: '(end − start [+ 10^digits when it rolled over]) / clicks_per_page − other_pages',
    worked: ['(end − start) / clicks_per_page − other_pages'],
  },
  source: 'what the meter counts: printed sides; common practice, no source',
  derive: pagesOf,
};
