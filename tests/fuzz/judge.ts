import { WIDTH, width } from '../../src/output/columns.ts';
import { run } from '../run.ts';
import type { Input } from './input.ts';
import type { Tried } from './try.ts';

/** What an outcome must not be. */
export interface Fault {
  /** The same for the same fault in other inputs, as far as can be told. */
  readonly kind: string;
  /** The line, or the measure, that shows it. */
  readonly detail: string;
}

export const SLOWEST_MS = 1000;
export const MOST_MIB = 200;

/** What no output may hold, unless the input itself does. */
const SIGNS: readonly (readonly [kind: string, sign: RegExp])[] = [
  ['stack trace', /^\s+at .+(?::\d+:\d+\)?|\((?:<anonymous>|native)\))$/m],
  ['error of the language', /\b(?:[A-Z][a-z]+)?Error\b/],
  ['own failure', /should not have|tallytare cannot/],
  ['not a number', /NaN/],
  ['infinity', /Infinity|∞/],
  ['undefined', /\bundefined\b/],
  ['object', /\[object /],
  ['minus zero', /(?<![\w.-])-0(?:\.0+)?(?![\w.-])/],
  // eslint-disable-next-line no-control-regex -- what must not get out
  ['control character', /[\0-\x08\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff]/],
];

/** How many fields each row of RFC 4180 has, or null where the text is not of it. */
function fieldsOf(text: string): number[] | null {
  if (!/^(?:(?:"(?:[^"]|"")*"|[^",\r\n]*)(?:,|\r\n))*$/.test(text)) return null;
  const bare = text.replace(/"(?:[^"]|"")*"/g, '');
  return bare
    .split('\r\n')
    .slice(0, -1)
    .map((row) => row.split(',').length);
}

const isJson = (text: string): boolean => {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
};

const lineAt = (text: string, index: number): string => {
  const from = text.lastIndexOf('\n', index - 1) + 1;
  const end = text.indexOf('\n', index);
  return text.slice(from, end === -1 ? undefined : end);
};

/**
 * What is wrong with a trial begun from one that can be judged. That a limit names a patch or a second
 * cartridge which the new trial has not yet may be said: those of the earlier one are not carried over.
 */
function unreadableFrom({ writes, files }: Input, written: string): string | null {
  if (writes === null || run(['verdict', 'a.yaml'], files).code === 3) return null;
  const { code, out } = run(['verdict', writes], { ...files, [writes]: written });
  return code !== 3 || /could be derived\s+for\./.test(out) ? null : out.slice(0, 1000);
}

/** The first fault of an outcome, null where it is as it should be. */
export function judge(input: Input, tried: Tried): Fault | null {
  const { code, out, err, milliseconds, peak } = tried;
  if (code === null || ![0, 1, 2, 3, 4, 5].includes(code)) return { kind: 'exit code', detail: String(code) };
  const given = Object.values(input.files).join('\n');
  for (const [stream, text] of [
    ['out', input.shape === 'csv' ? out.replaceAll('\r\n', '\n') : out],
    ['err', err],
    ['written', tried.written ?? ''],
  ] as const) {
    for (const [kind, sign] of SIGNS) {
      const found = sign.exec(text);
      if (found === null) continue;
      const shown = lineAt(text, found.index);
      // What the file says may be said back, and a file that is carried on may hold what its origin held.
      if (kind !== 'control character' && sign.test(given)) continue;
      if (stream === 'written' && kind === 'control character' && given.includes(found[0])) continue;
      return { kind: `${kind} in ${stream}`, detail: shown };
    }
    if (!text.isWellFormed()) return { kind: `lone surrogate in ${stream}`, detail: '' };
  }
  // What could not be read is said on standard error; nothing is printed then but verdicts.
  const printed = out !== '';
  if (input.shape === 'text') {
    const wide = out.split('\n').find((line) => width(line) > WIDTH);
    if (wide !== undefined) return { kind: `over ${WIDTH} columns`, detail: wide };
  }
  if (input.shape === 'json' && printed && !isJson(out))
    return { kind: 'not JSON', detail: out.slice(0, 200) };
  if (input.shape === 'jsonl' && !out.split('\n').slice(0, -1).every(isJson))
    return { kind: 'not JSON', detail: out.slice(0, 200) };
  if (input.shape === 'csv') {
    const rows = fieldsOf(out);
    if (rows?.some((fields) => fields !== rows[0]) ?? true)
      return { kind: 'not CSV', detail: out.slice(0, 200) };
  }
  if (input.shape === 'html' && printed && !/^<!DOCTYPE html>\n[^]*<\/html>\n$/.test(out))
    return { kind: 'not a whole page', detail: out.slice(-200) };
  if (code <= 2 && !printed) return { kind: 'says nothing', detail: `exit ${code}` };
  if (code >= 3 && !printed && err === '') return { kind: 'says nothing', detail: `exit ${code}` };
  const begun = tried.written === null ? null : unreadableFrom(input, tried.written);
  if (begun !== null) return { kind: 'writes what it cannot read', detail: begun };
  if (milliseconds > SLOWEST_MS) return { kind: 'slow', detail: `${Math.round(milliseconds)} ms` };
  if (peak !== null && peak > MOST_MIB) return { kind: 'memory', detail: `${Math.round(peak)} MiB` };
  return null;
}
