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
export const signatures = (of: string): Section => ({
  title: 'Signatures',
  blocks: [
    {
      kind: 'signatures',
      of,
      roles: ['Tried by', 'Checked by', 'Released by, for the supplier', 'Seen by, for the customer'],
    },
  ],
});

/** The digests of everything the report was made from. */
export function digests(inputs: readonly Input[], photos: readonly Image[]): Section {
  const once = new Map(photos.map((photo) => [photo.name, photo.sha256]));
  return {
    title: 'What this report was made from',
    annex: true,
    blocks: [
      ...digestTable([
        ...inputs.map(({ kind, file, sha256 }) => [file, kind, sha256] as const),
        ...[...once].map(([name, sha256]) => [name, 'photo', sha256] as const),
      ]),
      paragraph(
        'From these files, byte for byte, the same report can be made again; sha256sum FILE prints the same digits. A sealed result of the trial carries the digests of the trial and of its limits, not those of photos.',
      ),
    ],
  };
}

const digestTable = (rows: readonly (readonly [string, string, string])[]): Block[] =>
  table('Files', [{ text: 'file' }, { text: 'what it is' }, { text: 'SHA-256', code: true }], rows);
