import type { Input } from '../../archive/input.ts';
import { CAUTIONS } from '../../output/cautions.ts';
import { type Block, type Image, list, paragraph, type Section, table } from '../content.ts';

/** Cautions for whoever handles toner, waste and the machine after reading. */
export const cautions = (): Section => ({
  title: 'Handling and disposal of toner and waste',
  annex: true,
  blocks: list(CAUTIONS),
});

/** Lines to sign on. */
export const signatures = (of: string, authorisedBy: string | null): Section => ({
  title: 'Signatures',
  blocks: [
    {
      kind: 'signatures',
      of,
      authorisedBy,
      roles: ['Tried by', 'Checked by', 'Released by, for the supplier', 'Seen by, for the customer'],
    },
  ],
});

/** A file that a report was made from, named from the trial's folder. */
export interface MadeFrom {
  readonly kind: Input['kind'] | 'letterhead' | 'logo' | 'mix';
  readonly file: string;
  readonly sha256: string;
}

/** The digests of everything the report was made from. */
export function digests(
  inputs: readonly MadeFrom[],
  photos: readonly Image[],
  shapedBy: readonly string[],
): Section {
  const once = new Map(photos.map((photo) => [photo.name, photo.sha256]));
  return {
    title: 'What this report was made from',
    annex: true,
    blocks: [
      ...digestTable([
        ...inputs.map(({ kind, file, sha256 }) => [file, kind, sha256] as const),
        ...[...once].map(([name, sha256]) => [name, 'photo', sha256] as const),
      ]),
      ...(shapedBy.length === 0 ? [] : [paragraph('Options that shaped it:'), ...list(shapedBy)]),
      paragraph(
        'From these files, byte for byte, with the same options, the same report can be made again; sha256sum FILE prints the same digits. A sealed result of the trial carries the digests of the trial and of its limits, not those of photos.',
      ),
    ],
  };
}

const digestTable = (rows: readonly (readonly [string, string, string])[]): Block[] =>
  table('Files', [{ text: 'file' }, { text: 'what it is' }, { text: 'SHA-256', code: true }], rows);
