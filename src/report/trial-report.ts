import type { Input } from '../archive/input.ts';
import type { Assessed } from '../judge/assess.ts';
import { findingsOf } from '../checks/findings.ts';
import type { Report } from './content.ts';
import { firstScreen } from './first-screen.ts';
import { cartridges } from './sections/cartridges.ts';
import { cautions, digests, signatures } from './sections/closing.ts';
import { comparison } from './sections/comparison.ts';
import { events } from './sections/events.ts';
import { remarks, statedFigures, undecided } from './sections/findings.ts';
import { formulas } from './sections/formulas.ts';
import { type Photos, printsAndInspection } from './sections/prints.ts';
import { results } from './sections/results.ts';
import { howItWasTried, whatWasTried } from './sections/what-was-tried.ts';

/** The report on one judged trial; what it was made from, and its photos, come with it. */
export const trialReport = (
  result: Assessed,
  inputs: readonly Input[],
  photos: Photos,
  tool: string,
): Report => {
  const findings = findingsOf(result);
  return {
    kind: 'Report of a trial',
    title: result.trial.title,
    tool,
    headline: firstScreen(result),
    sections: [
      whatWasTried(result),
      howItWasTried(result),
      results(result),
      comparison(result),
      cartridges(result),
      printsAndInspection(result, photos),
      events(result),
      statedFigures(result, findings),
      undecided(result, findings),
      remarks(result, findings),
      formulas(result),
      cautions(),
      signatures(),
      digests(inputs, [...photos.values()]),
    ],
  };
};
