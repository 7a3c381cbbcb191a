import type { JudgedLot, Next } from '../lot/judged-lot.ts';
import type { LotRule } from '../lot/rule.ts';
import { type Quality, shareOf } from '../lot/terms.ts';
import { acceptNumber, rejectNumber } from '../statistics/sampling-plan.ts';
import { padEnd, wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import { DECISION, lotRemarks, SAID, triedName, whyWords } from './lot-words.ts';
import { exactly } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';

/** What the trials of a lot say of it, for people: at most 80 columns, the decision on the last line. */
export function lotText(judged: JudgedLot, paint: Paint = PLAIN): string {
  const { lot, size } = judged;
  const from = lot.supplier === null ? '' : ` from ${lot.supplier}`;
  const lines = [
    ...wrap(harmless(`Lot ${lot.id}${from}, ${size} cartridges`)).map(paint.strong),
    ...agreedLines(judged),
    '',
    paint.strong('CARTRIDGES TRIED'),
    ...triedLines(judged, paint),
    '',
    paint.strong('WHAT THEY SAY OF THE LOT'),
    ...saidLines(judged),
    ...lotRemarks(judged).flatMap((one) => ['', ...wrap(harmless(one), '  ')]),
    '',
    ...wrap(whyDecided(judged)),
    decisionLine(judged, paint),
  ];
  return `${lines.join('\n')}\n`;
}

const NAME = 20;
const line = (name: string, said: string): string[] => wrap(said, `  ${padEnd(name, NAME)}`);

/** A quality as it was agreed and in whole cartridges. */
export const qualityWords = ({ share, failing, risk }: Quality, size: number, whose: string): string =>
  `${exactly(share)} % failing, ${failing} of ${size}; ${whose} risk ${exactly(risk)} %`;

/** A rule in a line. */
export function ruleWords(rule: LotRule): string {
  if (rule.kind === 'single') {
    const { sample, accept } = rule.plan;
    return `try ${sample}; accept with ${accept === 0 ? 'none' : `no more than ${accept}`} failing`;
  }
  const { h1, h2, slope } = rule.lines;
  return `Wald’s sequential plan, h1 ${h1.toFixed(4)}, h2 ${h2.toFixed(4)}, s ${slope.toFixed(5)}`;
}

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

/** The longest is "says nothing". */
const SAID_COLUMNS = 12;

function triedLines({ tried }: JudgedLot, paint: Paint): string[] {
  return tried.flatMap((one) => {
    const tone = { passes: paint.good, fails: paint.bad, 'says-nothing': paint.unsure }[one.said];
    const word = padEnd(SAID[one.said], SAID_COLUMNS);
    const [first = '', ...more] = wrap(harmless(triedName(one)), `  ${word}  `);
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
    ...line(
      'largest share',
      `${share} % of the lot (${mostFailing} of ${size}) may fail: more is ruled out at ${exactly(confidence)} %, one-sided`,
    ),
  ];
}

function sequentialNumbers({ lines }: Extract<LotRule, { kind: 'sequential' }>, counted: number): string[] {
  const [accept, reject] = [acceptNumber(lines, counted), rejectNumber(lines, counted)];
  const few =
    accept === null
      ? 'not yet accepted with any number'
      : `accepted with ${accept === 0 ? 'none' : `${accept} or fewer`} failing`;
  const many = reject > counted ? 'not yet rejected with any' : `rejected with ${reject} or more`;
  return line(`after ${counted}`, `${few}, ${many}`);
}

/** Why the lot is accepted, rejected or neither, in a sentence or two. */
function whyDecided({ decided, decision, counted, failed }: JudgedLot): string {
  if (decided === null)
    return 'No limiting quality was agreed: give target.lot.limiting_quality in the trials, or --limiting-quality. Without it nothing is accepted or rejected.';
  const { rule, next } = decided;
  if (decision === 'go-on') return next === null ? '' : nextWords(next);
  if (rule.kind === 'sequential') return `The sequential rule stops here: ${failed} of ${counted} failed.`;
  const { sample, accept } = rule.plan;
  const left = sample - counted;
  const early =
    left > 0
      ? ` No result of the ${left === 1 ? 'cartridge' : `${left} cartridges`} left can change this.`
      : '';
  return decision === 'reject'
    ? `${failed} failed, and no more than ${accept} may.${early}`
    : `${failed} of ${counted} failed, and ${accept === 0 ? 'none' : `up to ${accept}`} may.${early}`;
}

function nextWords({ passes, failures }: Next): string {
  const accepted = `The lot is accepted if the next ${passes === 1 ? 'cartridge passes' : `${passes} cartridges pass`}`;
  const rejected =
    failures === null
      ? ''
      : `; it is rejected if the next ${failures === 1 ? 'one fails' : `${failures} fail`}`;
  return `${accepted}${rejected}.`;
}

function decisionLine({ decision }: JudgedLot, paint: Paint): string {
  const tone = { accept: paint.good, reject: paint.bad, 'go-on': paint.unsure }[decision];
  return paint.strong(tone(`LOT: ${DECISION[decision]}`));
}
