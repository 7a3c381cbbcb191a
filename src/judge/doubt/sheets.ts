import { Decimal } from '../../uncertainty/decimal.ts';
import { valueOf } from '../facts.ts';
import type { DoubtRule } from './doubt.ts';

/** Sheets spoilt, in percent, that count as nothing unusual; the spare paper of the plan unless it says otherwise. */
const SPARE = new Decimal(2);

/** The sheets counted are those that pages and two-sided share ask for, within the spare paper. */
export const sheetsCounted: DoubtRule = ({ trial: { data }, derived }) => {
  const counted = data.paper?.sheets_used;
  const sheets = valueOf(derived, 'sheets');
  if (!counted || sheets === null || sheets.value.isZero()) return [];
  const spare = data.target?.spare_paper?.value ?? SPARE;
  const apart = counted.value.minus(sheets.value).abs();
  if (apart.lte(sheets.value.times(spare).div(100))) return [];
  const fault = {
    code: 'sheets-differ',
    counted: counted.value.toFixed(),
    derived: sheets.value.toSignificantDigits(6).toFixed(),
  } as const;
  const path = ['paper', 'sheets_used'];
  return [{ fault, path, readings: [path, ['duplex_share']] }];
};
