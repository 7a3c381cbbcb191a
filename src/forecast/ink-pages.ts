import type { InkDevice, Kind, Mix } from './mix.ts';

/** The slots that Ghostscript counts, in the order of its columns. */
const COLUMNS = ['cyan', 'magenta', 'yellow', 'black'] as const;

/** A page: four numbers, and the words that end each line. */
const PAGE = /^\s*([0-9.]+)\s+([0-9.]+)\s+([0-9.]+)\s+([0-9.]+)\s+CMYK OK\s*$/;

/** What Ghostscript says beside, where it was not told to be quiet. */
const CHATTER =
  /^\s*$|^Page \d+\s*$|^GPL Ghostscript|^Copyright|^This software|^see the file|^Processing pages/;

/** What a text is that does not tell the coverage of pages. */
export type InkFault =
  | { readonly code: 'no-page'; readonly line: number; readonly text: string }
  | { readonly code: 'above-all'; readonly line: number }
  | { readonly code: 'no-pages' }
  /** Pages with colours, and trials that have black alone. */
  | { readonly code: 'colours'; readonly line: number }
  /** Slots of the trials that Ghostscript does not count. */
  | { readonly code: 'other-slots'; readonly slots: readonly string[] };

/**
 * The pages of a customer as Ghostscript's devices tell them, a line each: cyan, magenta, yellow and black. `inkcov` says
 * a share between 0 and 1 of the pixels that hold any toner, `ink_cov` percent of the page, each pixel by its tint
 * (seen, Ghostscript 10.0.0).
 *
 * @param slots the slots of the trials; one without a name takes black
 */
export function readInkPages(
  file: string,
  text: string,
  device: InkDevice,
  slots: readonly (string | null)[],
): Mix | InkFault {
  const others = slots.filter((slot) => slot !== null && !(COLUMNS as readonly string[]).includes(slot));
  if (others.length > 0) return { code: 'other-slots', slots: others.map(String) };
  const coloured = slots.some((slot) => slot !== null && slot !== 'black');
  const pages: number[][] = [];
  for (const [index, line] of text.split(/\r?\n/).entries()) {
    const found = PAGE.exec(line);
    if (found === null) {
      if (CHATTER.test(line)) continue;
      return { code: 'no-page', line: index + 1, text: line };
    }
    const values = found.slice(1).map(Number);
    if (!values.every(Number.isFinite)) return { code: 'no-page', line: index + 1, text: line };
    if (values.some((value) => value > (device === 'inkcov' ? 1 : 100)))
      return { code: 'above-all', line: index + 1 };
    if (!coloured && values.slice(0, 3).some((value) => value > 0))
      return { code: 'colours', line: index + 1 };
    pages.push(values.map((value) => (device === 'inkcov' ? 100 * value : value)));
  }
  if (pages.length === 0) return { code: 'no-pages' };
  const kinds = pages.map((values, index): Kind => {
    const coverages = COLUMNS.map((slot, i) => [slot, { value: values[i] ?? 0, u: 0 }] as const);
    const black = { value: values[3] ?? 0, u: 0 };
    return {
      name: `page ${index + 1}`,
      share: 1 / pages.length,
      coverages: new Map([...(coloured ? [] : [[null, black] as const]), ...coverages]),
    };
  });
  return { file, name: null, kinds, countedBy: device };
}
