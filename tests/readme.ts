import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { FIGURES } from '../src/figures/list.ts';
import type { Remark } from '../src/archive/compare.ts';
import { CODES } from '../src/problems/codes.ts';
import { ROOT } from './run.ts';

/**
 * The parts of README and manual that are made, not written: tables of figures and codes, and what the program
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
  prints: ' (in all, of attribute or slot)',
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

/** What the codes of remarks mean; a code of the table of problems says what is wrong with the trial. */
const REMARKS: Readonly<
  Record<Exclude<Remark['code'], 'problem'>, readonly [meaning: string, more: string]>
> = {
  'seal-missing': ['the trial was never sealed', ''],
  'seal-altered': ['the text of the seal is not as it was sealed', ''],
  'seal-malformed': ['its digest fits, but it is no seal', ''],
  'seal-too-large': ['no seal is so large', ''],
  'seal-unreadable': ['the seal cannot be opened', ''],
  'seal-newer': ['the seal is of a later format', ''],
  'trial-gone': ['the seal is there, the trial is not', ''],
  'input-changed': [
    'the bytes of a file are others',
    '`input` (trial, limits, preset or photo), `file`, `sealed`, `now`',
  ],
  'reading-moved': ['a value of the trial is another', '`key`, `sealed`, `now`'],
  'verdict-moved': ['another verdict', '`sealed`, `now`'],
  'outcome-moved': [
    'a limit is met, missed or open where it was not',
    '`figure`, `of`, `stat`, `sealed`, `now`',
  ],
  'figure-moved': [
    'a figure has another value, uncertainty or bound',
    '`figure`, `of`, `stat`, `sealed`, `now`, `difference`, `printed`',
  ],
  'agreed-moved': ['decision rule, reference coverage or limits were read differently', ''],
  'other-tool': ['note: another version sealed it', ''],
  'limits-file-differs': [
    'note: a limits file or preset differs now, or is gone; the limits in the seal decide',
    '`input`, `file`, `sealed`, `now`',
  ],
  'limit-differs': [
    'note: a limit that the files give now is another than in the seal',
    '`figure`, `of`, `stat`, `sealed`, `now`',
  ],
  'verdict-by-current-limits': ['note: the limits of today would give another verdict', '`sealed`, `now`'],
  'archive-changed': ['a file of the archive has other bytes than when it was sealed', '`file`'],
  'archive-removed': ['a file of the archive is gone', '`file`'],
  'archive-moved': ['the same bytes stand elsewhere, be it in a hidden folder', '`file`, `to`'],
  'archive-added': ['a file came after the archive was sealed', '`file`'],
  'archive-not-sealed': ['there is no archive.seal', ''],
  'archive-seal-altered': ['archive.seal is not as it is written', ''],
  'archive-unreadable': ['a file of the archive cannot be read', '`file`'],
  'other-name': ['note: the trial had another name', ''],
  'figures-new': ['note: figures that were not derived when it was sealed', '`figures`'],
  'figures-other-method': [
    'note: figures that a later version works out in another way',
    '`since`, `figures` (each with `sealed`, `now`)',
  ],
};

export const remarkTable = (): string =>
  [
    row('code', 'means', 'beside `kind`, `code`, `message`'),
    row('---', '---', '---'),
    ...Object.entries(REMARKS).map(([code, [meaning, more]]) => row(`\`${code}\``, meaning, more)),
  ].join('\n');

/** The README and the pages of the manual, by their names. */
export function documents(): Map<string, string> {
  const manual = readdirSync(join(ROOT, 'shared', 'manual')).map((name) => join('shared', 'manual', name));
  return new Map(['README.md', ...manual].map((name) => [name, readFileSync(join(ROOT, name), 'utf8')]));
}

/** The documents with their parts filled in, each part in the one that has a place for it. @throws Error where none has */
export function filled(texts: ReadonlyMap<string, string>, parts: Parts): Map<string, string> {
  const whole = new Map(texts);
  for (const [name, part] of Object.entries(parts)) {
    const place = new RegExp(`<!-- ${name} -->(?:[\\s\\S]*?<!-- /${name} -->)?`);
    const found = [...whole].filter(([, text]) => place.test(text));
    if (found.length === 0) throw new Error(`No document has a place for ${name}.`);
    for (const [file, text] of found)
      whole.set(
        file,
        text.replace(place, () => `<!-- ${name} -->\n\n${part}\n\n<!-- /${name} -->`),
      );
  }
  return whole;
}
