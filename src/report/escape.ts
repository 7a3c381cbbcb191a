import { harmless } from '../output/harmless.ts';

/** Text from anywhere as text of HTML and of SVG, in an element or in an attribute within double quotes. */
export const escaped = (text: string): string =>
  harmless(text).replace(/[&<>"']/g, (char) => ENTITIES[char] ?? char);

/** Letters written from right to left: Hebrew, Arabic and their neighbours (Unicode 16, blocks). */
const LETTER = '[\\u0590-\\u08ff\\ufb1d-\\ufdff\\ufe70-\\ufeff]';

/** A name in them, from its first letter to its last, with the digits and signs that cling to it. */
const FROM_RIGHT = new RegExp(
  `[\\w./-]*${LETTER}(?:[^<>&;:,()=|]*${LETTER})?[\\w./-]*(?: \\d[\\w./-]*)?`,
  'gu',
);

/**
 * Text in an element: what is written from right to left stands apart, so that it does not turn round the numbers
 * and signs beside it.
 */
export const told = (text: string): string =>
  escaped(text).replace(FROM_RIGHT, (name) => `<bdi dir="auto">${name}</bdi>`);

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};
