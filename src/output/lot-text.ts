import type { JudgedInspection } from '../lot/judged-inspection.ts';
import type { JudgedLot } from '../lot/judged-lot.ts';
import { type LotRule, numbersAt } from '../lot/rule.ts';
import { CLASSES, shareOf } from '../lot/terms.ts';
import { padEnd, wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import {
  cartridgeName,
  classWords,
  DECISION,
  foundWords,
  inspectWords,
  lotRemarks,
  qualityWords,
  ruleWords,
  SAID,
  whyDecided,
  whyWords,
} from './lot-words.ts';
import { exactly } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';

/** What the trials of a lot say of it, for people: at most 80 columns, the decision on the last line. */
export function lotText(judged: JudgedLot, paint: Paint = PLAIN): string {
  const { lot, size } = judged;
  const from = lot.supplier === null ? '' : ` from ${lot.supplier}`;
  const lines = [
    ...wrap(harmless(`Lot ${lot.id}${from}, ${size} cartridges`)).map(paint.strong),
    ...agreedLines(judged),
    ...inspectionLines(judged, paint),
    '',
    paint.strong('CARTRIDGES TRIED'),
    ...triedLines(judged, paint),
    '',
    paint.strong('WHAT THEY SAY OF THE LOT'),
    ...saidLines(judged),
    ...lotRemarks(judged).flatMap((one) => ['', ...wrap(harmless(one), '  ')]),
    '',
    ...whyDecided(judged).flatMap((said) => wrap(said)),
    decisionLine(judged, paint),
  ];
  return `${lines.join('\n')}\n`;
}

const NAME = 20;
const line = (name: string, said: string): string[] => wrap(said, `  ${padEnd(name, NAME)}`);

function agreedLines({ decided, size }: JudgedLot): string[] {
  if (decided === null) return [];
  const { terms, rule } = decided;
  return [
    ...line('limiting quality', qualityWords(terms.limiting, size, 'consumer’s')),
    ...(terms.acceptable
      ? line('acceptable quality', qualityWords(terms.acceptable, size, 'producer’s'))
      : []),
    ...line('rule', ruleWords(rule)),
  ];
}

/** So many cartridges are named of those with findings: the list itself has all. */
const MOST_FOUND = 10;

const tones = (paint: Paint) => ({ accept: paint.good, reject: paint.bad, 'go-on': paint.unsure });

function inspectionLines({ inspection, size }: JudgedLot, paint: Paint): string[] {
  if (inspection === null) return [];
  return [
    '',
    paint.strong('INSPECTION ON DELIVERY'),
    ...line('inspected', foundWords(inspection, size)),
    ...inspection.classes.slice(0, 1).flatMap(({ rule }) => line('plan', inspectWords(rule.plan.sample))),
    ...inspection.classes.flatMap((one) => {
      const word = DECISION[one.decision].toLowerCase();
      const prefix = `  ${padEnd(one.of, CLASS)}${padEnd(word, NAME - CLASS)}`;
      const [first = '', ...more] = wrap(classWords(one), prefix);
      const share = shareOf(one.mostFailing, size).toFixed(1);
      return [
        first.replace(word, tones(paint)[one.decision](word)),
        ...more,
        ...line('', qualityWords(one.terms.limiting, size, 'consumer’s', 'with one')),
        ...(one.terms.acceptable
          ? line('', qualityWords(one.terms.acceptable, size, 'producer’s', 'with one'))
          : []),
        ...line(
          '',
          `${share} % of the lot (${one.mostFailing} of ${size}) may have one: more is ruled out at ${exactly(one.confidence)} %, one-sided`,
        ),
      ];
    }),
    ...foundLines(inspection),
  ];
}

/** The longest is "critical". */
const CLASS = 10;

function foundLines({ inspected }: JudgedInspection): string[] {
  const found = CLASSES.flatMap((of) => inspected.filter(({ severity }) => severity === of));
  const named = found.slice(0, MOST_FOUND).flatMap((one) => {
    const note = one.note === null ? '' : `: ${one.note}`;
    return wrap(harmless(`${cartridgeName(one)}${note}`), `  ${padEnd(one.severity, CLASS)}`);
  });
  const more = found.length - MOST_FOUND;
  return found.length === 0 ? [] : ['', ...named, ...(more > 0 ? [`  and ${more} more`] : [])];
}

/** The longest is "says nothing". */
const SAID_COLUMNS = 12;

function triedLines({ tried }: JudgedLot, paint: Paint): string[] {
  if (tried.length === 0) return ['  none yet'];
  return tried.flatMap((one) => {
    const tone = { passes: paint.good, fails: paint.bad, 'says-nothing': paint.unsure }[one.said];
    const word = padEnd(SAID[one.said], SAID_COLUMNS);
    const [first = '', ...more] = wrap(harmless(cartridgeName(one)), `  ${word}  `);
    const why = whyWords(one);
    return [
      first.replace(word, tone(word)),
      ...more,
      ...(why === null ? [] : wrap(harmless(why), ' '.repeat(SAID_COLUMNS + 4))),
    ];
  });
}

function saidLines({ decided, size, counted, failed, mostFailing, confidence }: JudgedLot): string[] {
  const share = shareOf(mostFailing, size).toFixed(1);
  const numbers =
    decided?.rule.kind === 'sequential' && counted > 0 ? sequentialNumbers(decided.rule, counted) : [];
  return [
    ...line('tried', `${counted} of ${size}: ${counted - failed} passed, ${failed} failed`),
    ...numbers,
    ...(counted === 0
      ? []
      : line(
          'largest share',
          `${share} % of the lot (${mostFailing} of ${size}) may fail: more is ruled out at ${exactly(confidence)} %, one-sided`,
        )),
  ];
}

function sequentialNumbers(rule: LotRule, counted: number): string[] {
  const { accept, reject } = numbersAt(rule, counted);
  const few =
    accept === null
      ? 'not yet accepted with any number'
      : `accepted with ${accept === 0 ? 'none' : `${accept} or fewer`} failing`;
  const many = reject === null ? 'not yet rejected with any' : `rejected with ${reject} or more`;
  return line(`after ${counted}`, `${few}, ${many}`);
}

function decisionLine({ decision }: JudgedLot, paint: Paint): string {
  return paint.strong(tones(paint)[decision](`LOT: ${DECISION[decision]}`));
}
