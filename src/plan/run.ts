import { pagesOf as pagesPrinted } from '../figures/pages.ts';
import { paperMass } from '../figures/paper-mass.ts';
import { sheetsOf } from '../figures/sheets.ts';
import type { Run, Trial } from '../trial/trial.ts';
import { Decimal, ZERO } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import { given } from './planned.ts';

/** Pages of the trial: those planned, else those between the ends of its meter. @throws NotDerived */
export function pagesOf({ data, run }: Trial): Decimal {
  const { start, end } = run.meter;
  if (data.target?.pages || !start.measured || !end.measured) {
    return given(data.target?.pages, 'target', 'pages').value;
  }
  return pagesPrinted(run).value;
}

/** The run as it stands once so many pages are printed: a meter that begins at zero and counts pages. */
export function runOf(run: Run, pages: Decimal): Run {
  const at = (value: Decimal, path: Run['path']) => ({ path, measured: Measured.exact(value) });
  return {
    ...run,
    batches: [],
    meter: {
      start: at(ZERO, run.meter.start.path),
      end: at(pages, run.meter.end.path),
      clicksPerPage: new Decimal(1),
      otherPages: ZERO,
    },
  };
}

/** Sheets that so many pages take. @throws NotDerived */
export const sheetsFor = (trial: Trial, pages: Decimal): Decimal => sheetsOf(runOf(trial.run, pages)).value;

/** Their mass, in kg. @throws NotDerived */
export const paperMassFor = (trial: Trial, pages: Decimal): Decimal =>
  paperMass.derive(runOf(trial.run, pages), { referenceCoverage: ZERO }).value;
