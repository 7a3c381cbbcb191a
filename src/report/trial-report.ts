import type { Input } from '../archive/input.ts';
import type { Assessed } from '../judge/assess.ts';
import { findingsOf } from '../checks/findings.ts';
import type { Report } from './content.ts';
import { firstScreen } from './first-screen.ts';
import { budgets, rawReadings } from './sections/annexes.ts';
import { cartridges } from './sections/cartridges.ts';
import { cautions, digests, signatures } from './sections/closing.ts';
import { comparison } from './sections/comparison.ts';
import { events } from './sections/events.ts';
import { forTheHouse, remarks } from './sections/findings.ts';
import { formulas } from './sections/formulas.ts';
import { inspection, type Photos } from './sections/inspection.ts';
import { limits } from './sections/limits.ts';
import { notRecorded } from './sections/not-recorded.ts';
import { prints } from './sections/prints.ts';
import { results } from './sections/results.ts';
import { howItWasTried, whatWasTried } from './sections/what-was-tried.ts';

/** What the report on a trial is made of, beside the trial. */
export interface Made {
  readonly inputs: readonly Input[];
  readonly photos: Photos;
  readonly tool: string;
  /** Whether what is for the house alone goes in. */
  readonly internal: boolean;
}

/** The report on one judged trial: the answer, what it rests on, and the annexes. */
export const trialReport = (result: Assessed, { inputs, photos, tool, internal }: Made): Report => {
  const findings = findingsOf(result);
  const headline = firstScreen(result);
  const { title } = result.trial;
  return {
    kind: 'Report of a trial',
    title,
    tool,
    headline,
    sections: [
      limits(result),
      whatWasTried(result),
      howItWasTried(result),
      results(result),
      cartridges(result),
      comparison(result),
      prints(result, photos),
      inspection(result, photos),
      events(result),
      notRecorded(result),
      remarks(findings),
      ...(internal ? [forTheHouse(result, findings)] : []),
      signatures(`What is signed: ${title}. ${headline.word} ${headline.said}`),
      rawReadings(result),
      budgets(result),
      formulas(result),
      cautions(),
      digests(inputs, [...photos.values()]),
    ],
  };
};
