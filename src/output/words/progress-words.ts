import { CHANGE_CARE } from '../cautions.ts';
import { wordless, limitWords, withU, type Words } from './said.ts';

/** What is said while a run goes on. */
export const PROGRESS_WORDS = {
  'to-be-read': ({ reading }) => ({ say: `${reading} is still to be read.`, mend: '' }),
  'run-under-way': ({ pages, target, percent, next, batch }) => ({
    say: `${pages} pages are printed${target === null ? '' : ` of ${target} (${percent ?? ''} %)`}.`,
    mend: next === null ? '' : `Next: batch ${batch ?? ''}, to meter ${next}.`,
  }),
  'run-expected-end': ({ speed, hours, day }) => ({
    say: `At ${speed} pages an hour so far, ${hours} printing hours are left${day === null ? '' : `: done on ${day} at the earliest`}.`,
    mend: '',
  }),
  'waste-so-far': ({ waste, pages, rate, expected }) => ({
    say: `${withU(waste)} g of waste from ${pages} pages are ${withU(rate)} g per thousand${expected === null ? '' : `: ${withU(expected)} g in the end if it stays so`}.`,
    mend: '',
  }),
  'run-short-of-target': ({ pages, target }) => ({
    say: `The run has ${pages} of the ${target} pages planned.`,
    mend: 'If it goes on, leave the meter’s end empty until it is over, and note the reading under "batches".',
  }),
  'limit-out-of-reach': ({ figure, min, max, unit, value, bound }) => ({
    say: `The limit on ${figure}, ${limitWords(min, max, unit)}, can no longer be kept: it comes to ${bound === 'at_least' ? 'at least' : 'at most'} ${value}${wordless(unit)}, whatever the rest of the run brings.`,
    mend: 'Check the reading; if it is right, the run may be stopped here.',
  }),
  'limit-at-risk': ({ figure, min, max, unit, value }) => ({
    say: `The limit on ${figure}, ${limitWords(min, max, unit)}, would be missed if the run went on as it did: ${withU(value)}${wordless(unit)}.`,
    mend: 'Weigh again, and look at what is different from what was expected.',
  }),
  'container-fills': ({ at, capacity }) => ({
    say: `At this rate the waste container, which takes ${capacity} g, is full at about meter ${at}, before the run ends.`,
    mend: `Have another one ready: weigh the full one, and list the new one under "waste_container" once it is fitted. ${CHANGE_CARE}`,
  }),
  'no-fails-limit': () => ({
    say: 'No limit was agreed that could condemn the lot, so nothing was decided.',
    mend: 'Add "limits:" to the trial, or give --limits with a file or preset.',
  }),
} satisfies Partial<Words>;
