import type { Data } from '../../text/source.ts';
import { SEVERITIES } from '../schema/severities.ts';
import { folded } from './headings.ts';

/** Rows of a table of findings: a cartridge each, and what was found on it. */

/** What people write where nothing was found. */
const NOTHING = new Set(
  'none, no, ok, okay, nothing, nil, no finding, no findings, no defect, no defects, good, keine, kein, keiner, nichts, aucun, aucune, rien, ninguno, ninguna, nada, nessuno, nessuna, niente, geen, niets'.split(
    ', ',
  ),
);

const saysNothing = (cell: string): boolean => folded(cell) === '' || NOTHING.has(folded(cell));

/**
 * A row as an inspection has it. Whoever lists the cartridges of a delivery looked at them then; a row that names no
 * finding and no severity is of one with nothing to find. A finding without a severity is given an empty one, which is none of the words that can stand there.
 */
export function findingData(row: Readonly<Record<string, Data>>): Record<string, Data> {
  const { severity, note } = row;
  const written = typeof severity === 'string' ? severity : '';
  const found = typeof note === 'string' && !saysNothing(note);
  const word = folded(written);
  const known = SEVERITIES.find((one) => one === word);
  const none = written === '' ? !found : NOTHING.has(word);
  return {
    stage: 'delivery',
    ...row,
    severity: none ? 'none' : (known ?? written),
  };
}
