import { FIGURES } from '../src/figures/list.ts';
import { CODES } from '../src/trial/codes.ts';

/**
 * The parts of the README that are made, not written: tables of figures and codes, and what the program
 * prints. A part stands between `<!-- name -->` and `<!-- /name -->`.
 */
export type Parts = Readonly<Record<string, string>>;

const cell = (text: string): string => text.replaceAll('|', '\\|');
const row = (...cells: string[]): string => `| ${cells.map(cell).join(' | ')} |`;

/** What each figure is derived for, as people say it. */
const PER = {
  trial: '',
  cartridge: ' (of cartridge)',
  patch: ' (of patch)',
  readings: ' (least, greatest, mean)',
  findings: ' (in all, of stage or part)',
} as const;

export const figureTable = (): string =>
  [
    row('figure', 'unit', 'formula', 'source'),
    row('---', '---', '---', '---'),
    ...FIGURES.map(({ name, unit, per, formula, source }) =>
      row(`\`${name}\`${PER[per]}`, unit, `${formula.words} ${formula.symbols}`, source),
    ),
  ].join('\n');

export const codeTable = (): string =>
  [
    row('code', 'severity', 'meaning'),
    row('---', '---', '---'),
    ...Object.entries(CODES).map(([code, [severity, meaning]]) => row(`\`${code}\``, severity, meaning)),
  ].join('\n');

/** The text with its parts filled in. @throws Error where a part has no place in the text */
export function filled(text: string, parts: Parts): string {
  return Object.entries(parts).reduce((whole, [name, part]) => {
    const place = new RegExp(`<!-- ${name} -->(?:[\\s\\S]*?<!-- /${name} -->)?`);
    if (!place.test(whole)) throw new Error(`The README has no place for ${name}.`);
    return whole.replace(place, () => `<!-- ${name} -->\n\n${part}\n\n<!-- /${name} -->`);
  }, text);
}
