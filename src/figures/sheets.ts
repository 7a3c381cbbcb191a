import type { Run } from '../trial/trial.ts';
import { Decimal, ONE } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import type { RunFigure } from './figure.ts';
import { pagesOf } from './pages.ts';

const ONE_EXACT = Measured.exact(ONE);
const HALF = new Decimal('0.5');

/** Sheets of paper: a two-sided sheet carries two pages. */
export const sheetsOf = (run: Run): Measured =>
  run.duplexBasis === 'pages'
    ? pagesOf(run).times(ONE_EXACT.minus(run.duplexShare.times(HALF)))
    : pagesOf(run).over(ONE_EXACT.plus(run.duplexShare), 'duplex_share');

export const sheets: RunFigure = {
  name: 'sheets',
  title: 'sheets',
  unit: 'sheet',
  per: 'trial',
  formula: {
    words: 'Pages, less one sheet for every two pages that share one.',
    symbols: 'pages × (1 − d/2), d = duplex share of the pages; of the sheets: pages / (1 + d)',
    worked: ['pages × (1 − d / 2)', 'pages / (1 + d)'],
  },
  source: 'arithmetic: a two-sided sheet carries two pages; common practice, no source',
  derive: sheetsOf,
};
