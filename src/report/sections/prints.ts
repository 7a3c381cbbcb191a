import type { Assessed } from '../../judge/assess.ts';
import { withValue } from '../../output/text-figures.ts';
import type { InspectionFinding } from '../../trial/trial.ts';
import { dotted } from '../../uncertainty/path.ts';
import { type Block, heading, type Image, paragraph, type Photo, type Section, table } from '../content.ts';
import { colourPictures } from '../pictures/colours.ts';
import { named, valueOfFigure, valueText } from '../values.ts';

/** Photos by the place of the finding they belong to, as `dotted` writes it. */
export type Photos = ReadonlyMap<string, Image>;

/** What the prints showed, and what was found in delivery and machine. */
export function printsAndInspection(result: Assessed, photos: Photos): Section {
  const { run, reference } = result.trial;
  return {
    title: 'Prints and inspection',
    blocks: [
      heading('Prints'),
      ...printBlocks(result),
      heading('Inspection'),
      ...inspectionBlocks(run.inspection, photos, 'Findings'),
      ...(reference?.inspection?.length
        ? inspectionBlocks(reference.inspection, photos, 'Findings of the reference run')
        : []),
    ],
  };
}

function printBlocks(result: Assessed): Block[] {
  const { derived, trial } = result;
  const values = derived.filter(({ figure }) => figure.per === 'patch').flatMap(withValue);
  const patches = [...new Set(values.flatMap(({ of }) => of ?? []))];
  const figures = [...new Set(values.map(({ figure }) => figure))];
  const rows = patches.map((patch) => [
    patch,
    ...figures.map(({ name }) => {
      const found = valueOfFigure(derived, name, patch);
      return found === null ? '' : valueText(found);
    }),
  ]);
  const marks = (trial.data.prints?.marks ?? []).map(
    ({ distance, note }) => [`${distance.value.toFixed()} mm`, note ?? ''] as const,
  );
  if (rows.length + marks.length === 0) return [paragraph('No patches were measured on the prints.')];
  return [
    ...table(
      'Control patches',
      [{ text: 'patch' }, ...figures.map(({ title, unit }) => ({ text: named(title, unit), numeric: true }))],
      rows,
    ),
    ...colourPictures(result),
    ...table('Marks that repeat down the page', [{ text: 'every' }, { text: 'what it looks like' }], marks),
  ];
}

function inspectionBlocks(
  findings: readonly InspectionFinding[] | null,
  photos: Photos,
  caption: string,
): Block[] {
  if (findings === null) return [paragraph('No inspection was recorded.')];
  if (findings.length === 0) return [paragraph('The inspection found nothing.')];
  const what = ({ part, slot }: InspectionFinding): string =>
    [part, slot].filter((one) => one !== null).join(', ');
  const rows = findings.map((finding) => [
    what(finding),
    finding.stage ?? '',
    finding.severity,
    finding.note ?? '',
    photos.get(dotted(finding.path))?.name ?? '',
  ]);
  const shown = findings.flatMap((finding): Photo[] => {
    const image = photos.get(dotted(finding.path));
    if (image === undefined) return [];
    const said = [what(finding), finding.note].filter(Boolean).join(': ');
    return [{ kind: 'photo', image, caption: said === '' ? image.name : `${said} (${image.name})` }];
  });
  return [
    ...table(
      caption,
      [
        { text: 'part' },
        { text: 'stage' },
        { text: 'severity' },
        { text: 'what was found' },
        { text: 'photo' },
      ],
      rows,
    ),
    ...shown,
  ];
}
