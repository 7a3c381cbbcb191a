import * as z from 'zod';
import { RASTER_SLOTS } from '../../raster/count.ts';
import { count, decimal, head, list, text } from './parts.ts';

const slot = z.strictObject({
  slot: z.enum(RASTER_SLOTS).describe('The colour; a grey picture is of black.'),
  coverage: decimal('Coverage by tint, in percent of the picture.'),
  u: decimal('Standard uncertainty of it, in percent: what the edges leave open.'),
  tolerance: decimal('The same as the half-width of a rectangle, in percent.'),
  edges: decimal('Edges, each one pixel wide, in percent of the picture.'),
  toned: decimal('Pixels that hold any toner, in percent.'),
  toned_half: decimal('Pixels toned by half or more, in percent.'),
  u_toned_half: decimal('Standard uncertainty of toned_half, in percent.'),
});

/** `coverage --format json`. */
export const coverageSchema = z
  .strictObject({
    ...head(1),
    file: text('The document.'),
    sha256: text('Its SHA-256.'),
    picture: z.enum(['PNG', 'TIFF']).describe('What it is.'),
    slots: list(slot, 'The mean over the pages, colour by colour.'),
    pages: list(
      z.strictObject({
        width: count('Pixels across.'),
        height: count('Pixels down.'),
        pixels_per_inch: z
          .nullable(z.strictObject({ across: decimal('Across.'), down: decimal('Down.') }))
          .describe('How many make an inch. Null: the file does not say.'),
        margins: z
          .nullable(
            z.strictObject({
              left: count('Columns without toner at the left.'),
              top: count('Rows without toner at the top.'),
              right: count('Columns without toner at the right.'),
              bottom: count('Rows without toner at the bottom.'),
            }),
          )
          .describe('What is without toner at the edges, in pixels. Null: the page is empty.'),
        slots: list(slot, 'The same of this page.'),
      }),
      'Page by page.',
    ),
    remarks: list(z.string(), 'What to know before the numbers are used.'),
  })
  .describe('The coverage of a document, counted in its picture.');
export type CoverageData = z.infer<typeof coverageSchema>;
