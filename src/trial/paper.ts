import { Decimal } from '../uncertainty/decimal.ts';
import type { RunData } from './schema/trial.ts';
import type { Paper } from './trial.ts';

/** Paper sizes in mm: ISO 216 for the A series; letter and legal from 8.5 × 11 and 8.5 × 14 inches. */
const PAPER_MM: Readonly<Record<string, readonly [width: string, height: string]>> = {
  A3: ['297', '420'],
  A4: ['210', '297'],
  A5: ['148', '210'],
  letter: ['215.9', '279.4'],
  legal: ['215.9', '355.6'],
};

type PaperData = Pick<NonNullable<RunData['paper']>, 'size' | 'grammage'>;

/** The paper of a run, defaults filled in: A4 at 80 g/m²; of a batch, what it does not say is as `beside`. */
export function paperOf(data: PaperData | null | undefined, beside: Paper | null = null): Paper {
  const grammage = data?.grammage?.value ?? beside?.grammage ?? new Decimal(80);
  if (data?.size == null && beside !== null) return { ...beside, grammage };
  const size = data?.size ?? 'A4';
  const [a4Width, a4Height] = PAPER_MM['A4'] as readonly [string, string];
  if (typeof size === 'string') {
    const [width, height] = PAPER_MM[size] ?? [a4Width, a4Height];
    return { name: size, width: new Decimal(width), height: new Decimal(height), grammage };
  }
  const width = size.width?.value ?? new Decimal(a4Width);
  const height = size.height?.value ?? new Decimal(a4Height);
  return { name: `${width.toString()} × ${height.toString()} mm`, width, height, grammage };
}
