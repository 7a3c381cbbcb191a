import type { Assessed } from '../../judge/assess.ts';
import { trialLines } from '../../output/trial-lines.ts';
import { type Block, paragraph, type Section, table } from '../content.ts';
import { roomBlocks } from './ambient.ts';
import { typeset } from '../typeset.ts';
import { quantityText } from '../values.ts';

type Pair = readonly [word: string, said: readonly string[]];

/** What the file says was tried and how, as words with all that is said to each. */
function pairsOf(result: Assessed): Pair[] {
  const pairs: [string, string[]][] = [];
  for (const [word, written] of trialLines(result)) {
    const said = counted(word, written);
    if (word === '') pairs.at(-1)?.[1].push(said);
    else pairs.push([word, [said]]);
  }
  return pairs;
}

/** What the meter showed, thousands apart; lots and serials, which may be digits too, stay as they are. */
const counted = (word: string, said: string): string =>
  word === 'meter'
    ? typeset(said)
    : said
        .replace(/(?<=^batch\u00a0\d+), meter \d+ to \d+(?=: )/, (meters) => typeset(meters))
        .replace(/(?<= (?:exhausted|failed|fitted) at )\d{5,}/g, (digits) => typeset(digits));

/** Of these the first section tells; of the others the second. */
const WHAT: ReadonlySet<string> = new Set(['trial', 'lot', 'machine', 'when, who', 'meter', 'cartridges']);

const facts = (pairs: readonly Pair[]): Block[] => (pairs.length > 0 ? [{ kind: 'facts', pairs }] : []);

/** What was tried on what, when and by whom. */
export function whatWasTried(result: Assessed): Section {
  const { data } = result.trial;
  const note = typeof data.trial === 'string' ? null : data.trial.note;
  const parts = (data.machine?.parts ?? []).map(({ part, rated_life: life, used }) => {
    const said = [
      life && typeset(`rated for ${life.text} pages`),
      used && typeset(`${used.text} done before the run`),
    ];
    return [part, ...said.filter(Boolean)].join(', ');
  });
  return {
    title: 'What was tried',
    blocks: facts([
      ...pairsOf(result).filter(([word]) => WHAT.has(word)),
      ...(parts.length > 0 ? [['machine’s parts', parts] as const] : []),
      ...(note == null ? [] : [['note', [note]] as const]),
    ]),
  };
}

/** How it was tried: printing, paper, coverage, instruments, rule and ambient. */
export function howItWasTried(result: Assessed): Section {
  const { printing } = result.trial.data;
  const more: Pair[] = [
    ...(printing?.settings == null ? [] : [['settings', [printing.settings]] as const]),
    ...(printing?.conditioned_hours == null
      ? []
      : [
          [
            'conditioned',
            [`paper and cartridges ${printing.conditioned_hours.text} hours in the same air before the run`],
          ] as const,
        ]),
    ...(printing?.sha256 == null ? [] : [['document’s SHA-256', [printing.sha256]] as const]),
    ['limits', [limitsFrom(result)]],
    ['decision rule', [ruleWords(result)]],
  ];
  return {
    title: 'How it was tried',
    blocks: [
      ...facts([...pairsOf(result).filter(([word]) => !WHAT.has(word)), ...more]),
      ...instrumentBlocks(result),
      ...roomBlocks(result),
    ],
  };
}

function limitsFrom({ agreed }: Assessed): string {
  const names = agreed.limits.map(({ origin }) => (origin.kind === 'inline' ? 'this trial' : origin.name));
  return [...new Set(names)].join(', ') || 'nowhere: none were agreed';
}

function ruleWords({ agreed: { decision } }: Assessed): string {
  if (decision.rule === 'simple') {
    return 'simple: the value as it stands decides, the edge included (ILAC-G8:09/2019, 4.2.1)';
  }
  return `guarded: a limit is met, or missed, only where the value is beyond it by more than ${decision.factor.toFixed()} u, its guard band; between it is open (ILAC-G8:09/2019, 4.2.3)`;
}

const UNITS = {
  scale: 'g',
  thermometer: '°C',
  hygrometer: '%',
  meter: 'page',
  gauge: '%',
  densitometer: '1',
  colorimeter: '1',
  glossmeter: 'GU',
} as const;

function instrumentBlocks({ trial: { data } }: Assessed): Block[] {
  const rows = (Object.keys(UNITS) as (keyof typeof UNITS)[]).flatMap((name) => {
    const instrument = data.instruments?.[name];
    if (instrument == null) return [];
    return [
      [
        name,
        instrument.id ?? '',
        quantityText(instrument.resolution, UNITS[name]) || 'as written',
        quantityText(instrument.max_error, UNITS[name]) || 'not given',
        instrument.calibrated_until?.text ?? 'not given',
      ],
    ];
  });
  return [
    ...(rows.length > 0
      ? table(
          'Instruments and their calibration',
          ['instrument', 'number', 'resolution', 'largest error', 'calibrated until'].map((text) => ({
            text,
          })),
          rows,
        )
      : [
          paragraph(
            'Readings count as read to their last digit, and without a largest error of the instrument.',
          ),
        ]),
  ];
}
