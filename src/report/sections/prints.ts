import { formatHex, modeLab, modeRgb, useMode } from 'culori/fn';
import { marksOn, rotatingPartsOf } from '../../figures/repeating-marks.ts';
import type { Assessed } from '../../judge/assess.ts';
import { partsWords } from '../../output/marks.ts';
import { withValue } from '../../output/text-figures.ts';
import { asGood, printOf, worse } from '../../output/text-prints.ts';
import type { Patch, Print, Run, SeenPrint, Trial } from '../../trial/trial.ts';
import { dotted } from '../../uncertainty/path.ts';
import { asWritten } from '../as-written.ts';
import { type Block, type Cell, paragraph, type Section, table } from '../content.ts';
import { colourPictures } from '../pictures/colours.ts';
import { named, valueOfFigure, valueText } from '../values.ts';
import { notYet, photoBlocks, type Photos } from './inspection.ts';

/** What was measured on the prints: each patch as it was at first and at last, and what changed; and what was seen. */
export const prints = (result: Assessed, photos: Photos): Section => ({
  title: 'Prints',
  blocks: [
    ...patchBlocks(result),
    ...differenceBlocks(result),
    ...colourPictures(result),
    ...markBlocks(result.trial, result.trial.run, 'Marks that repeat down the page'),
    ...(result.trial.reference === null
      ? []
      : markBlocks(
          result.trial,
          result.trial.reference,
          'Marks that repeat on the prints of the reference run',
        )),
    ...byEyeBlocks(result.trial.run.prints.byEye, photos, 'Prints judged by eye, the worst first'),
    ...byEyeBlocks(
      result.trial.reference?.prints.byEye ?? null,
      photos,
      'Prints of the reference run judged by eye, the worst first',
    ),
  ],
});

/** Marks with their distance, where they are seen, and the rotating parts they can come from where these are known. */
function markBlocks({ data }: Trial, run: Run, caption: string): Block[] {
  const parts = rotatingPartsOf(data.machine);
  return table(
    caption,
    [{ text: 'every' }, { text: 'slot' }, { text: 'what it looks like' }, { text: 'it can come from' }],
    run.prints.marks.map(({ distance, slot, note }) => [
      `${distance.value.toFixed()} mm`,
      slot ?? '',
      note ?? '',
      parts.length === 0
        ? 'not known: no rotating part is given'
        : partsWords(marksOn(distance.value, parts)),
    ]),
  );
}

/** What was judged by eye: in a line what is as it should be, in a table what is worse. */
function byEyeBlocks(seen: readonly SeenPrint[] | null, photos: Photos, caption: string): Block[] {
  if (seen === null) return [];
  if (seen.length === 0) return [paragraph('By eye nothing worse was found on the prints.')];
  const what = ({ attribute, slot }: SeenPrint): string =>
    [attribute, slot].filter((one) => one !== null).join(', ');
  const shown = [...worse(seen), ...seen.filter(({ severity }) => severity === 'none')];
  return [
    ...asGood(seen).map((said) => paragraph(`By eye: ${said}.`)),
    ...table(
      caption,
      [
        { text: 'judged' },
        { text: 'severity' },
        { text: 'print' },
        { text: 'held against' },
        { text: 'what it looks like' },
        { text: 'by' },
        { text: 'photo' },
      ],
      worse(seen).map((one) => [
        what(one),
        { severity: one.severity ?? 'none' },
        printOf(one),
        HELD_AGAINST[one.against],
        one.note ?? '',
        one.by ?? '',
        photos.get(dotted(one.path))?.name ?? '',
      ]),
    ),
    ...notYet('Not judged by eye yet', seen, what),
    ...photoBlocks(shown, what, photos),
  ];
}

const HELD_AGAINST = { reference: 'the reference print', first: 'the first print' } as const;

useMode(modeLab);
useMode(modeRgb);

/** A CIELAB colour (D50) as a screen shows it; what a screen cannot show is cut to what it can. */
function screenColour({ lab }: Print): string | null {
  const [l, a, b] = lab.map(({ measured }) => measured?.value.toNumber());
  if (l === undefined || a === undefined || b === undefined) return null;
  return formatHex({ mode: 'lab', l, a, b });
}

function printCell(trial: Trial, print: Print): Cell {
  const { density, lab, gloss } = print;
  const values = lab.map((one) => asWritten(trial, one)).filter((one) => one !== '');
  const text = [
    ...(values.length === 3 ? [`L*a*b* ${values.join(' ')}`] : []),
    ...(density.measured ? [`density ${asWritten(trial, density)}`] : []),
    ...(gloss.measured ? [`gloss ${asWritten(trial, gloss)}`] : []),
  ].join(', ');
  const swatch = screenColour(print);
  return swatch === null ? text : { swatch, text };
}

const STAGES = ['reference', 'first', 'last'] as const;

function patchBlocks({ trial }: Assessed): Block[] {
  const { patches } = trial.run.prints;
  const isRead = (print: Print): boolean =>
    [print.density, print.gloss, ...print.lab].some(({ measured }) => measured !== null);
  const stages = STAGES.filter((stage) => patches.some((patch) => isRead(patch[stage])));
  if (stages.length === 0) return [];
  const coloured = patches.some((patch) => stages.some((stage) => screenColour(patch[stage]) !== null));
  return [
    ...table(
      'Control patches as measured',
      [{ text: 'patch' }, ...stages.map((text) => ({ text }))],
      patches.map((patch: Patch) => [patch.name, ...stages.map((stage) => printCell(trial, patch[stage]))]),
    ),
    ...(coloured
      ? [
          paragraph(
            'The small fields show each colour as near as a screen or a printer can; the numbers count.',
          ),
        ]
      : []),
  ];
}

function differenceBlocks({ derived }: Assessed): Block[] {
  const values = derived.filter(({ figure }) => figure.per === 'patch').flatMap(withValue);
  const patches = [...new Set(values.flatMap(({ of }) => of ?? []))];
  const figures = [...new Set(values.map(({ figure }) => figure))];
  return table(
    'What changed on the control patches',
    [{ text: 'patch' }, ...figures.map(({ title, unit }) => ({ text: named(title, unit), numeric: true }))],
    patches.map((patch) => [
      patch,
      ...figures.map(({ name }) => {
        const found = valueOfFigure(derived, name, patch);
        return found === null ? '' : valueText(found);
      }),
    ]),
  );
}
