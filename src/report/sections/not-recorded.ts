import type { Assessed } from '../../judge/assess.ts';
import { lotsOf } from '../../trial/lot.ts';
import { paragraph, type Section } from '../content.ts';

/** What a reader may look for and the trial does not have, in one line. */
export function notRecorded({ trial }: Assessed): Section {
  const { run, data } = trial;
  const head = typeof data.trial === 'string' ? null : data.trial;
  const prints = data.prints;
  const missing = [
    lotsOf(trial).length === 0 && 'the lot',
    data.machine == null && 'the machine',
    head?.started == null && 'the days of the trial',
    head?.operator == null && 'who tried it',
    data.printing == null && 'the document printed',
    data.instruments == null && 'the instruments',
    run.ambient.length === 0 && 'the air',
    run.events === null && 'events',
    run.inspection === null && 'an inspection',
    prints == null && 'measurements of prints',
    run.prints.byEye === null && 'prints judged by eye',
    data.reference == null && 'a run with the reference consumable',
  ].filter((one) => one !== false);
  return {
    title: 'Not recorded',
    blocks: missing.length === 0 ? [] : [paragraph(`Not recorded: ${missing.join('; ')}.`)],
  };
}
