import type { Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { need, type RunFigure } from './figure.ts';

/** Pages of the run: what the meter moved, in pages, less those that are not of the trial. */
export const pagesOf = (run: Run): Measured =>
  need(run.meter.end)
    .minus(need(run.meter.start))
    .over(clicksPerPage(run), 'clicks_per_page')
    .minus(Measured.exact(run.meter.otherPages, [...run.path, 'meter', 'other_pages']));

/** What the meter counts for a page. */
export const clicksPerPage = ({ meter, path }: Run): Measured =>
  Measured.exact(meter.clicksPerPage, [...path, 'meter', 'clicks_per_page']);

export const pages: RunFigure = {
  name: 'pages',
  title: 'pages',
  unit: 'page',
  per: 'trial',
  formula: {
    words: 'What the meter moved, in pages, less the pages that are not of the trial.',
    symbols: '(end − start [+ 10^digits when it rolled over]) / clicks_per_page − other_pages',
    worked: ['(end − start) / clicks_per_page − other_pages'],
  },
  source: 'what the meter counts: printed sides; common practice, no source',
  derive: pagesOf,
};
