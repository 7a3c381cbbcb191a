import type { Conditions, Run } from '../trial/trial.ts';
import { Decimal, ONE } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import type { RunFigure } from './figure.ts';
import { pagesOf } from './pages.ts';
import { alikeInDuplex, overPagesOfTrial } from './stretches.ts';

const ONE_EXACT = Measured.exact(ONE);
const HALF = new Decimal('0.5');

/** Sheets that pages of one two-sided share take: a two-sided sheet carries two pages. */
export const sheetsFor = (
  pages: Measured,
  { duplexShare }: Conditions,
  { duplexBasis }: Pick<Run, 'duplexBasis'>,
): Measured =>
  duplexBasis === 'pages'
    ? pages.times(ONE_EXACT.minus(duplexShare.times(HALF)))
    : pages.over(ONE_EXACT.plus(duplexShare), 'duplex_share');

/** Sheets of paper of the pages of the trial. */
export const sheetsOf = (run: Run): Measured =>
  overPagesOfTrial(run, pagesOf(run), alikeInDuplex, (pages, under) => sheetsFor(pages, under, run));

export const sheets: RunFigure = {
  name: 'sheets',
  title: 'sheets',
  unit: 'sheet',
  per: 'trial',
  formula: {
    words:
      'Pages, less one sheet for every two pages that share one; of batches with a two-sided share of their own by batch.',
    symbols: 'pages × (1 − d/2), d = duplex share of the pages; of the sheets: pages / (1 + d)',
    worked: ['pages × (1 − d / 2)', 'pages / (1 + d)'],
  },
  source: 'arithmetic: a two-sided sheet carries two pages; common practice, no source',
  derive: sheetsOf,
};
