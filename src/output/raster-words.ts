import type { CountedDocument, CountedPage } from '../raster/count.ts';
import type { RasterFault, Unsupported } from '../raster/raster.ts';
import { asDecimal } from '../uncertainty/decimal.ts';

/** What a raster says of itself, and why it gives no coverage, in sentences. */

/** What is not read here, and what to do instead. */
const UNSUPPORTED: Readonly<Record<Unsupported, (value: number) => string>> = {
  compression: (value) =>
    `its pixels are packed in a way that is not read here (compression ${value}); save it with LZW, or without compression`,
  samples: (value) =>
    `it has samples of ${value} bits, or of bits that differ; save it with 1, 8 or 16 bits each`,
  inks: (value) =>
    value < 0
      ? 'it does not say what its colours are; save it as grey, or as cyan, magenta, yellow and black'
      : `its colours are of a kind that is not read here (photometric interpretation ${value}); save it as grey, or as cyan, magenta, yellow and black`,
  channels: (value) =>
    `it has ${value} channels, or a further one beside its colours; save it flattened, without transparency and further inks`,
  predictor: (value) =>
    `its samples are written as differences of a kind that is not read here (predictor ${value}); save it without`,
};

/** Why a raster gives no coverage, and what to do; it follows the name of its file. */
export function rasterFaultWords(fault: RasterFault): string {
  switch (fault.code) {
    case 'no-raster':
      return 'it is no PNG and no TIFF; print the document into one ("tallytare help coverage" has the command)';
    case 'damaged':
      return `the picture is damaged (${fault.why.replace(/\.$/, '')}); make it again`;
    case 'too-many-pixels':
      return `a page of ${fault.width} × ${fault.height} pixels is larger than 80 million; 600 pixels for each inch are enough`;
    case 'too-many-pages':
      return `it has more than ${fault.most} pages, or its pages lead in a circle; give fewer`;
    case 'interlaced':
      return 'its rows are interlaced; save it without interlacing';
    case 'coloured':
      return 'it has red, green and blue, which no toner is: how they become cyan, magenta, yellow and black is known to the machine alone. Make a TIFF of cyan, magenta, yellow and black, or a grey picture for a machine without colours ("tallytare help coverage" has the commands)';
    case 'transparent':
      return 'parts of it are transparent; save it flattened on white';
    case 'pages-differ':
      return 'it has pages in grey and pages in cyan, magenta, yellow and black; make all pages alike';
    case 'unsupported':
      return UNSUPPORTED[fault.what](fault.value);
  }
}

const MM_OF_INCH = 25.4;

const millimetres = (pixels: number, perInch: number): string =>
  asDecimal((pixels / perInch) * MM_OF_INCH).toFixed(1);

/** How large a page is. */
export function sizeWords({ width, height, resolution }: CountedPage): string {
  const pixels = `${width} × ${height} pixels`;
  if (resolution === null) return `${pixels}; the file does not say how many make an inch`;
  const { across, down } = resolution;
  return `${pixels}, ${Math.round(across)} for each inch: ${millimetres(width, across)} × ${millimetres(height, down)} mm`;
}

/** What of a page is without toner at its edges; it is part of the page. */
export function marginWords({ margins, resolution }: CountedPage): string {
  if (margins === null) return 'no toner on it';
  const { left, right, top, bottom } = margins;
  if (left + right + top + bottom === 0) return 'none: toner to all edges';
  const told = (pixels: number, perInch: number | undefined): string =>
    perInch === undefined ? String(pixels) : millimetres(pixels, perInch);
  const unit = resolution === null ? 'pixels' : 'mm';
  return `${told(left, resolution?.across)} left, ${told(right, resolution?.across)} right, ${told(top, resolution?.down)} top, ${told(bottom, resolution?.down)} bottom, in ${unit}`;
}

/** Edges deeper than this part of the coverage leave it known to no better than that. */
const MUCH_EDGE = 0.05;

/** What to know before the numbers are used. */
export function documentRemarks({ pages, slots }: CountedDocument): string[] {
  const sizes = new Set(pages.map(({ width, height }) => `${width} ${height}`));
  const uneven = slots.filter(({ coverage, tolerance }) => tolerance > MUCH_EDGE * coverage);
  return [
    ...(slots.some(({ toned }) => toned === 100)
      ? [
          'Every pixel holds some toner. A scan of a print has paper that is not white, and is no measure of its coverage: make the picture from the document itself.',
        ]
      : []),
    ...(uneven.length > 0
      ? [
          'The edges leave much open. Make the picture with more pixels for each inch and with softened edges ("tallytare help coverage" has the commands).',
        ]
      : []),
    ...(sizes.size > 1 ? ['The pages are of different sizes; each counts as one page in the mean.'] : []),
  ];
}
