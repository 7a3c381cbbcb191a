import type { Assessed } from '../../judge/assess.ts';
import { SEVERITIES, type SeverityWord } from '../../trial/schema/severities.ts';
import type { InspectionFinding } from '../../trial/trial.ts';
import { dotted, type Path } from '../../uncertainty/path.ts';
import { type Block, type Image, paragraph, type Photo, type Section, table } from '../content.ts';

/** Photos by the place of the finding they belong to, as `dotted` writes it. */
export type Photos = ReadonlyMap<string, Image>;

/** What was found in delivery and machine, the worst first. */
export function inspection({ trial: { run, reference } }: Assessed, photos: Photos): Section {
  return {
    title: 'Findings',
    blocks: [
      ...findingBlocks(run.inspection, photos, 'Findings, the worst first'),
      ...(reference?.inspection?.length
        ? findingBlocks(reference.inspection, photos, 'Findings of the reference run, the worst first')
        : []),
    ],
  };
}

type Found = InspectionFinding & { readonly severity: SeverityWord };

const bySeverity = (a: Found, b: Found): number =>
  SEVERITIES.indexOf(b.severity) - SEVERITIES.indexOf(a.severity);

function findingBlocks(found: readonly InspectionFinding[] | null, photos: Photos, caption: string): Block[] {
  if (found === null) return [];
  if (found.length === 0) return [paragraph('The inspection found nothing.')];
  const what = ({ part, slot, serial }: InspectionFinding): string =>
    [part, slot, serial && `serial ${serial}`].filter((one) => one !== null).join(', ');
  const findings = found
    .flatMap((one): Found[] => (one.severity === null ? [] : [{ ...one, severity: one.severity }]))
    .toSorted(bySeverity);
  const rows = findings.map((finding) => [
    what(finding),
    { severity: finding.severity },
    finding.stage ?? '',
    finding.note ?? '',
    photos.get(dotted(finding.path))?.name ?? '',
  ]);
  return [
    ...table(
      caption,
      [
        { text: 'part' },
        { text: 'severity' },
        { text: 'stage' },
        { text: 'what was found' },
        { text: 'photo' },
      ],
      rows,
    ),
    ...notYet('Not looked at yet', found, what),
    ...photoBlocks(findings, what, photos),
  ];
}

/** What was planned to be looked at, and has not been. */
export function notYet<F extends { readonly severity: SeverityWord | null }>(
  label: string,
  planned: readonly F[],
  what: (one: F) => string,
): Block[] {
  const open = planned.filter(({ severity }) => severity === null).map(what);
  return open.length === 0 ? [] : [paragraph(`${label}: ${[...new Set(open)].join('; ')}.`)];
}

/** The photos of what was found or seen, each with what it shows. */
export const photoBlocks = <F extends { readonly path: Path; readonly note: string | null }>(
  found: readonly F[],
  what: (one: F) => string,
  photos: Photos,
): Photo[] =>
  found.flatMap((one): Photo[] => {
    const image = photos.get(dotted(one.path));
    if (image === undefined) return [];
    const said = [what(one), one.note].filter(Boolean).join(': ');
    return [{ kind: 'photo', image, caption: said === '' ? image.name : `${said} (${image.name})` }];
  });
