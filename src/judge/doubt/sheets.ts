import { sheetsFor } from '../../figures/sheets.ts';
import { alikeInDuplex, alikeInTrial, groupsIn } from '../../figures/stretches.ts';
import type { Run } from '../../trial/trial.ts';
import { Decimal, ZERO } from '../../uncertainty/decimal.ts';
import { ifDerived } from '../../uncertainty/not-derived.ts';
import { valueOf } from '../facts.ts';
import type { DoubtRule } from './doubt.ts';

/** Sheets spoilt, in percent, that count as nothing unusual; the spare paper of the plan unless it says otherwise. */
const SPARE = new Decimal(2);

/** Sheets of the batches that are not of the trial. */
function sheetsOfOther(run: Run): Decimal {
  const groups = ifDerived(() => groupsIn(run, (a, b) => alikeInTrial(a, b) && alikeInDuplex(a, b))) ?? [];
  return groups
    .filter(({ first }) => first.other)
    .reduce((sum, { clicks, first: { under } }) => {
      return sum.plus(sheetsFor(clicks, under, run).value.div(run.meter.clicksPerPage));
    }, ZERO);
}

/** The sheets counted are those that pages and two-sided share ask for, within the spare paper. */
export const sheetsCounted: DoubtRule = ({ trial: { data, run }, derived }) => {
  const counted = data.paper?.sheets_used;
  const sheets = valueOf(derived, 'sheets');
  if (!counted || sheets === null || sheets.value.isZero()) return [];
  const spare = data.target?.spare_paper?.value ?? SPARE;
  const allowed = sheets.value.times(spare).div(100);
  // Those of other batches may have been counted, or not.
  const most = sheets.value.plus(sheetsOfOther(run)).plus(allowed);
  if (counted.value.gte(sheets.value.minus(allowed)) && counted.value.lte(most)) return [];
  const fault = {
    code: 'sheets-differ',
    counted: counted.value.toFixed(),
    derived: sheets.value.toSignificantDigits(6).toFixed(),
  } as const;
  const path = ['paper', 'sheets_used'];
  const ofBatches = run.batches.filter(({ duplexShare }) => duplexShare !== run.duplexShare);
  const shares = ofBatches.map((batch) => [...batch.path, 'duplex_share']);
  return [{ fault, path, readings: [path, ['duplex_share'], ...shares] }];
};
