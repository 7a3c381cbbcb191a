import type { Counted, CountedDocument, CountedPage } from '../raster/count.ts';
import { asDecimal } from '../uncertainty/decimal.ts';
import { padEnd, wrap } from './columns.ts';
import { harmless, harmlessJson } from './harmless.ts';
import { fullDigits, shown } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';
import { documentRemarks, marginWords, sizeWords } from './raster-words.ts';
import type { CoverageData } from './schema/coverage.ts';
import { table, type TableRow } from './text-table.ts';

/** The coverage of a document that was counted: for people and for other programs. */

/** The format in JSON; raised when a consumer would have to change. */
const FORMAT = 1;

/** A document with its name and the SHA-256 of its bytes. */
export interface NamedDocument {
  readonly file: string;
  readonly sha256: string;
  readonly counted: CountedDocument;
}

const ROOT3 = Math.sqrt(3);

/** Of a rectangular half-width. */
const u = (half: number): number => half / ROOT3;

/** Every pixel is counted, but no more digits than they tell are shown of what is exact. */
const MOST_DIGITS = 6;

function withU(value: number, half: number): string {
  const told = shown(asDecimal(value).toSignificantDigits(MOST_DIGITS), asDecimal(2 * u(half)));
  return told.U === '' ? told.value : `${told.value} ± ${told.U}`;
}

/** Percent of the page beyond which a range tells nothing. */
const TELLS_NOTHING = 50;

/** A share with its U; where these leave 0 to 100 % the range that is left of it. */
function withinPage(value: number, half: number): string {
  const U = 2 * u(half);
  const [least, greatest] = [Math.max(0, value - U), Math.min(100, value + U)];
  if (value - U >= 0 && value + U <= 100) return withU(value, half);
  if (greatest - least > TELLS_NOTHING) return 'cannot be told';
  const end = (of: number): string => asDecimal(of).toSignificantDigits(2).toFixed();
  return `${end(least)} to ${end(greatest)}`;
}

const line = (word: string, said: string): string[] => wrap(said, `  ${padEnd(word, 10)}`);

/** For people. */
export function coverageText({ file, sha256, counted }: NamedDocument, paint: Paint = PLAIN): string {
  const { kind, pages, slots } = counted;
  const [first] = pages;
  const remarks = documentRemarks(counted);
  const row = (name: string, cell: (one: Counted) => string): TableRow => ({ name, cells: slots.map(cell) });
  const lines = [
    ...wrap(harmless(`COVERAGE OF ${file}`), '', '  ').map(paint.strong),
    ...line('picture', `${kind}, ${pages.length === 1 ? 'one page' : `${pages.length} pages`}`),
    ...(first === undefined
      ? []
      : [
          ...line('size', sizeWords(first)),
          ...(pages.length > 1 ? [] : line('margins', marginWords(first))),
        ]),
    ...line('SHA-256', sha256),
    '',
    ...table(
      slots.map(({ slot }) => slot),
      [
        row('coverage, by tint, %', ({ coverage, tolerance }) => withU(coverage, tolerance)),
        row('pixels toned by half or more, %', ({ aboveHalf, aboveHalfTolerance }) =>
          withinPage(aboveHalf, aboveHalfTolerance),
        ),
        row('edges, one pixel wide, %', ({ edges }) => withU(edges, 0)),
      ],
      paint,
    ),
    '',
    ...(pages.length > 1 ? pageLines(pages, paint) : []),
    ...(slots.length > 1
      ? [
          `  All slots together: ${withU(
            slots.reduce((sum, { coverage }) => sum + coverage, 0),
            slots.reduce((sum, { tolerance }) => sum + tolerance, 0),
          )} %.`,
          '',
        ]
      : []),
    ...remarks.flatMap((one) => wrap(one, '  ! ', '    ')),
    ...(remarks.length > 0 ? [''] : []),
    ...wrap(
      'All numbers are percent of the whole picture, its margins included. The first row is the coverage: each pixel counts as much as it is toned, since a machine prints a tint as dots that cover that part. The second row counts pixels; half a tint tells whether one counts. A trial takes the first ("coverage: {document: …}"). ± is U = 2u: of the coverage, what the edges leave open; of the pixels, those toned between a quarter and three quarters. Where too many are, their row cannot be told.',
    ),
  ];
  return `${lines.join('\n')}\n`;
}

const pageLines = (pages: readonly CountedPage[], paint: Paint): string[] => [
  ...table(
    (pages[0]?.slots ?? []).map(({ slot }) => slot),
    pages.map(({ slots }, index) => ({
      name: `page ${index + 1}, coverage, %`,
      cells: slots.map(({ coverage, tolerance }) => withU(coverage, tolerance)),
    })),
    paint,
  ),
  '',
  ...pages.flatMap((page, index) => wrap(`page ${index + 1}, margins: ${marginWords(page)}`, '  ', '    ')),
  '',
];

/** For other programs. Shares are in percent of the picture. */
export function coverageJson({ file, sha256, counted }: NamedDocument, tool: string): string {
  const digits = (value: number): string => fullDigits(asDecimal(value));
  const slotData = (one: Counted) => ({
    slot: one.slot,
    coverage: digits(one.coverage),
    u: digits(u(one.tolerance)),
    tolerance: digits(one.tolerance),
    edges: digits(one.edges),
    toned: digits(one.toned),
    toned_half: digits(one.aboveHalf),
    u_toned_half: digits(u(one.aboveHalfTolerance)),
  });
  const data: CoverageData = {
    format: FORMAT,
    tool,
    file,
    sha256,
    picture: counted.kind,
    slots: counted.slots.map(slotData),
    pages: counted.pages.map(({ width, height, resolution, margins, slots }) => ({
      width,
      height,
      pixels_per_inch: resolution && { across: digits(resolution.across), down: digits(resolution.down) },
      margins,
      slots: slots.map(slotData),
    })),
    remarks: documentRemarks(counted),
  };
  return `${harmlessJson(data, 2)}\n`;
}
