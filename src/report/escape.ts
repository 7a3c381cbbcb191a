import { harmless } from '../output/harmless.ts';

/** Around a text of a file inside a sentence of ours: two code points that Unicode keeps for use inside a program. */
const [BEGIN, END] = ['\ufdd0', '\ufdd1'];
const MARKED = new RegExp(`${BEGIN}([^${BEGIN}${END}]*)${END}`, 'u');
const MARKS = new RegExp(`[${BEGIN}${END}]`, 'gu');

/** Letters written from right to left: Hebrew, Arabic and their neighbours (Unicode 16, blocks). */
const LETTER = '[\\u0590-\\u08ff\\ufb1d-\\ufdcf\\ufdf0-\\ufdff\\ufe70-\\ufeff]';

/** Whether a text has letters that are written from right to left. */
export const isFromRight = (text: string): boolean => new RegExp(LETTER, 'u').test(text);

/** A name in them, from its first letter to its last, with the digits and signs that cling to it. */
const FROM_RIGHT = new RegExp(
  `[\\w./-]*${LETTER}(?:[^<>&;:,()=|]*${LETTER})?[\\w./-]*(?: \\d[\\w./-]*)?`,
  'gu',
);

/**
 * Marks every text of a file in a sentence, the longest first, so that it stands apart as a whole, with the number of
 * its place behind it (black#2).
 */
export function marker(texts: readonly string[]): (sentence: string) => string {
  const all = [...new Set(texts)].filter((text) => isFromRight(text) && text.length > 1);
  const longestFirst = all.toSorted((a, b) => b.length - a.length).map(quotedPattern);
  if (longestFirst.length === 0) return (sentence) => sentence;
  const any = new RegExp(`(?:${longestFirst.join('|')})(?:#\\d+)?`, 'gu');
  return (sentence) =>
    isFromRight(sentence)
      ? sentence.replace(MARKS, '\ufffd').replace(any, (text) => `${BEGIN}${text}${END}`)
      : sentence;
}

const plain = (text: string): string =>
  harmless(text.replace(MARKS, '')).replace(/[&<>"']/g, (char) => ENTITIES[char] ?? char);

/** A text in pieces, of which every second is a text of the file. */
const inPieces = (text: string): string[] => text.split(MARKED);

/**
 * Text from anywhere as text of HTML, in an element or in an attribute within double quotes. What was marked is set
 * apart by the signs that Unicode has for it (first strong isolate, UAX 9).
 */
export const escaped = (text: string): string =>
  inPieces(text)
    .map((piece, index) => (index % 2 === 0 ? plain(piece) : apart(plain(piece))))
    .join('');

/** Text of SVG, which has no element for a name in another direction. */
export const drawn = (text: string): string => escaped(text).replace(FROM_RIGHT, apart);

const apart = (text: string): string => `\u2068${text}\u2069`;

/**
 * Text in an element: what is written from right to left stands apart, so that it does not turn round the numbers
 * and signs beside it.
 */
export const told = (text: string): string =>
  inPieces(text)
    .map((piece, index) =>
      index % 2 === 0 ? plain(piece).replace(FROM_RIGHT, isolated) : isolated(plain(piece)),
    )
    .join('');

const isolated = (text: string): string => `<bdi dir="auto">${text}</bdi>`;

const quotedPattern = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&');

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};
