import { acceptedOf } from '../../lot/characteristic.ts';
import type { JudgedInspection } from '../../lot/judged-inspection.ts';
import type { JudgedLot } from '../../lot/judged-lot.ts';
import { CLASSES, type Quality, shareOf } from '../../lot/terms.ts';
import { count } from '../../output/ground-words.ts';
import {
  classWords,
  DECISION,
  foundWords,
  inspectWords,
  lotRemarks,
  mixedWords,
  qualityWords,
  ruleWords,
  SAID,
  whyDecided,
  whyWords,
} from '../../output/lot-words.ts';
import { exactly, percent } from '../../output/numbers.ts';
import { reasonWords } from '../../output/reason-words.ts';
import {
  type Block,
  type Fact,
  type Headline,
  heading,
  list,
  paragraph,
  type Section,
  table,
} from '../content.ts';
import { characteristicPicture } from '../pictures/characteristic.ts';
import { withoutKeys } from '../plain-names.ts';
import { withoutOptions } from '../for-readers.ts';
import type { LotSaid } from '../lot-said.ts';

/** The lot: accepted, rejected or neither, what was counted, and how often such a lot would be accepted. */
export function lotSection(said: LotSaid): Section {
  if (!('judged' in said)) return { title: 'The lot', blocks: [paragraph(whyNothing(said))] };
  const { judged } = said;
  const { lot, inspection, decided } = judged;
  return {
    title: `Lot ${lot.id}: ${DECISION[judged.decision].toLowerCase()}`,
    blocks: [
      ...whyDecided(judged).map((why) => paragraph(plain(why))),
      { kind: 'facts', pairs: lotFacts(judged) },
      ...list(lotRemarks(judged).flatMap((one) => plain(one) || [])),
      ...triedTable(judged),
      ...(inspection === null ? [] : inspectionBlocks(inspection, judged)),
      ...(decided === null ? [] : characteristicBlocks(judged)),
    ],
  };
}

/** What is said of a lot has names in it as they were written: its numbers are not set as print sets them. */
const plain = (text: string): string => withoutKeys(withoutOptions(text));

function whyNothing(said: Exclude<LotSaid, { judged: JudgedLot }>): string {
  if ('refused' in said) return `Nothing is decided of the lot: ${reasonWords(said.refused)}.`;
  if ('unsized' in said)
    return `Nothing is decided of lot ${said.unsized}: how many cartridges it has is not said, or is fewer than were tried or inspected.`;
  return said.mixed.kind === 'lots'
    ? 'Nothing is decided of a lot: these trials are of several lots, and a lot is decided by its own trials alone.'
    : `Nothing is decided of the lot: ${mixedWords(said.mixed, null)}.`;
}

/** A decision on the first screen of a report. */
export function lotFact({ lot, size, decision, counted, failed, tried, inspection }: JudgedLot): Fact {
  const silent = tried.length - counted;
  return {
    word: `Lot ${lot.id}`,
    said: capital(DECISION[decision].toLowerCase()),
    beside: [
      `${counted} of ${size} tried, ${failed === 0 ? 'none' : failed} failed`,
      ...(silent > 0 ? [`${silent} inconclusive, counted as neither`] : []),
      ...(inspection === null ? [] : [`${inspection.inspected.length} inspected on delivery`]),
    ].join('; '),
  };
}

/** The answer of a report on a lot, where no yield is claimed. */
export function lotAnswer(judged: JudgedLot): Pick<Headline, 'verdict' | 'word' | 'said' | 'more'> {
  const { lot, size, decision, counted, failed, inspection } = judged;
  const inspected = inspection === null ? '' : `, ${inspection.inspected.length} inspected on delivery`;
  return {
    verdict: ({ accept: 'pass', reject: 'fail', 'go-on': 'inconclusive' } as const)[decision],
    word: `${capital(DECISION[decision].toLowerCase())}.`,
    said: `Lot ${lot.id}, ${size} cartridges: ${counted} tried, ${failed === 0 ? 'none' : failed} failed${inspected}.`,
    more: whyDecided(judged).flatMap((why) => plain(why) || []),
  };
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function lotFacts(judged: JudgedLot): [string, string[]][] {
  const { lot, size, decided, tried, counted, failed, mostFailing, confidence } = judged;
  const quality = (word: string, of: Quality | null, whose: string): [string, string[]][] =>
    of === null ? [] : [[word, [qualityWords(of, size, whose)]]];
  const silent = tried.length - counted;
  return [
    ['lot', [`${lot.id}${lot.supplier === null ? '' : ` from ${lot.supplier}`}, ${size} cartridges`]],
    ...(decided === null
      ? []
      : [
          ...quality('limiting quality', decided.terms.limiting, 'consumer’s'),
          ...quality('acceptable quality', decided.terms.acceptable, 'producer’s'),
          ['rule', [ruleWords(decided.rule)]] as [string, string[]],
        ]),
    ['tried', [`${counted} of ${size}: ${counted - failed} passed, ${failed} failed`]],
    ...(silent === 0
      ? []
      : [
          [
            'inconclusive',
            [
              `${count(silent, 'cartridge')}: neither passed nor failed. They take nothing from what is still to be tried.`,
            ],
          ] as [string, string[]],
        ]),
    ...(counted === 0
      ? []
      : [
          [
            'largest share',
            [
              `${shareOf(mostFailing, size).toFixed(1)} % of the lot (${mostFailing} of ${size}) may fail; more is ruled out with ${exactly(confidence)} % confidence, one-sided`,
            ],
          ] as [string, string[]],
        ]),
  ];
}

const triedTable = ({ tried }: JudgedLot): Block[] =>
  table(
    'What each cartridge of the lot showed',
    [
      { text: 'cartridge' },
      { text: 'says' },
      { text: 'machine' },
      { text: 'day', whole: true },
      { text: 'trial' },
      { text: 'why' },
    ],
    tried.map((one) => [
      [one.name, one.serial].filter((part) => part !== null).join(', ') || 'not named',
      SAID[one.said],
      one.machine ?? 'not named',
      one.day ?? '',
      one.file,
      whyWords(one) ?? '',
    ]),
  );

function inspectionBlocks(inspection: JudgedInspection, { size }: JudgedLot): Block[] {
  const { classes, inspected } = inspection;
  const [first] = classes;
  const found = CLASSES.flatMap((of) => inspected.filter(({ severity }) => severity === of));
  return [
    heading('Inspection on delivery'),
    paragraph(
      `Inspected: ${foundWords(inspection, size)}.${first === undefined ? '' : ` Agreed: ${inspectWords(first.rule.plan.sample)}.`}`,
    ),
    ...table(
      'Classes of findings, each by its own terms',
      [
        { text: 'class' },
        { text: 'decision' },
        { text: 'found' },
        { text: 'agreed' },
        { text: 'may still be in the lot' },
      ],
      classes.map((one) => [
        { severity: one.of },
        DECISION[one.decision].toLowerCase(),
        classWords(one),
        [
          qualityWords(one.terms.limiting, size, 'consumer’s', 'with one'),
          ...(one.terms.acceptable
            ? [qualityWords(one.terms.acceptable, size, 'producer’s', 'with one')]
            : []),
        ].join('. '),
        `${shareOf(one.mostFailing, size).toFixed(1)} % (${one.mostFailing} of ${size}), with ${exactly(one.confidence)} % confidence`,
      ]),
    ),
    ...table(
      'Cartridges with findings, the worst first',
      [{ text: 'cartridge' }, { text: 'severity' }, { text: 'what was found' }, { text: 'from' }],
      found.map((one) => [
        [one.serial, one.name].filter((part) => part !== null).join(', ') || 'not named',
        { severity: one.severity },
        one.note ?? '',
        one.file,
      ]),
    ),
  ];
}

/** Parts of the limiting quality that the table beside the picture has. */
const PARTS = [0, 0.25, 0.5, 0.75, 1, 1.5, 2];

function characteristicBlocks({ lot, size, decided }: JudgedLot): Block[] {
  if (decided === null) return [];
  const { rule, terms } = decided;
  const { limiting, acceptable } = terms;
  const shown = [...PARTS.map((part) => Math.round(part * limiting.failing)), acceptable?.failing ?? 0];
  const failing = [...new Set(shown)].filter((one) => one <= size).toSorted((a, b) => a - b);
  return [
    heading('How often such a lot is accepted'),
    paragraph(
      'By the rule above, had the lot as many failing cartridges: exact, for cartridges drawn at random from it.',
    ),
    characteristicPicture(lot.id, rule, terms),
    ...table(
      'Operating characteristic of the rule',
      [
        { text: 'failing in the lot', numeric: true },
        { text: 'share, %', numeric: true },
        { text: 'accepted, % of cases', numeric: true },
        { text: 'agreed' },
      ],
      failing.map((one) => [
        `${one} of ${size}`,
        shareOf(one, size).toFixed(1),
        percent(acceptedOf(rule, size, one)).toFixed(1),
        one === limiting.failing
          ? `limiting quality; at most ${exactly(limiting.risk)} %`
          : one === acceptable?.failing
            ? `acceptable quality; at least ${exactly(acceptable.risk.neg().plus(100))} %`
            : '',
      ]),
    ),
  ];
}
