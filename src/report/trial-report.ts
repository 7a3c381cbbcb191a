import type { Assessed } from '../judge/assess.ts';
import { findingsOf } from '../checks/findings.ts';
import type { Report } from './content.ts';
import { verdictJson } from './data.ts';
import type { Letterhead } from './letterhead.ts';
import type { LotSaid } from './lot-said.ts';
import { firstScreen } from './first-screen.ts';
import { textsIn } from './own-texts.ts';
import { budgets, rawReadings } from './sections/annexes.ts';
import { cartridges } from './sections/cartridges.ts';
import { cautions, digests, type MadeFrom, signatures } from './sections/closing.ts';
import { comparison } from './sections/comparison.ts';
import { events } from './sections/events.ts';
import { forTheHouse, remarks } from './sections/findings.ts';
import { formulas } from './sections/formulas.ts';
import { inspection, type Photos } from './sections/inspection.ts';
import { limits } from './sections/limits.ts';
import { lotSection } from './sections/lot.ts';
import { notRecorded } from './sections/not-recorded.ts';
import { prints } from './sections/prints.ts';
import { results } from './sections/results.ts';
import { howItWasTried, whatWasTried } from './sections/what-was-tried.ts';

/** What the report on a trial is made of, beside the trial. */
export interface Made {
  readonly inputs: readonly MadeFrom[];
  readonly letterhead: Letterhead | null;
  /** What is said of the lot; null where nothing was agreed of it. */
  readonly lot: LotSaid | null;
  /** Options of the command line that shaped it. */
  readonly shapedBy: readonly string[];
  readonly photos: Photos;
  readonly tool: string;
  /** Whether what is for the house alone goes in. */
  readonly internal: boolean;
}

/** The report on one judged trial: the answer, what it rests on, and the annexes. */
export const trialReport = (result: Assessed, made: Made): Report => {
  const { inputs, photos, tool, internal, letterhead, lot, shapedBy } = made;
  const findings = findingsOf(result);
  const headline = firstScreen(result);
  const { title, data } = result.trial;
  const id = letterhead?.id ?? (typeof data.trial === 'string' ? null : (data.trial.id ?? null));
  return {
    kind: 'Report of a trial',
    title,
    letterhead,
    id,
    tool,
    headline,
    texts: textsIn(data),
    data: { name: `${result.file.replace(/\.ya?ml$/i, '')}.json`, json: verdictJson(result, tool) },
    sections: [
      limits(result),
      whatWasTried(result),
      howItWasTried(result),
      results(result),
      cartridges(result),
      comparison(result),
      prints(result, photos),
      inspection(result, photos),
      ...(lot === null ? [] : [lotSection(lot)]),
      events(result),
      notRecorded(result),
      remarks(findings),
      ...(internal ? [forTheHouse(result, findings)] : []),
      signatures(
        `What is signed: ${[id, title].filter(Boolean).join(', ')}. ${headline.word} ${headline.said}`,
        letterhead?.authorisedBy ?? null,
      ),
      rawReadings(result),
      budgets(result),
      formulas(result),
      cautions(),
      digests(inputs, [...photos.values()], shapedBy),
    ],
  };
};
