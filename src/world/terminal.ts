import { type Paint, PLAIN } from '../output/paint.ts';
import type { Io } from './io.ts';

/** Select Graphic Rendition (ECMA-48): a code that begins and one that ends it. */
const sgr =
  (begin: number, end: number) =>
  (text: string): string =>
    text === '' ? '' : `\u001b[${begin}m${text}\u001b[${end}m`;

const COLOURED: Paint = {
  strong: sgr(1, 22),
  faint: sgr(2, 22),
  good: sgr(32, 39),
  bad: sgr(31, 39),
  unsure: sgr(33, 39),
};

export const paintFor = (io: Io): Paint => (io.colour ? COLOURED : PLAIN);
