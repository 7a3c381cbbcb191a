import { harmless } from '../output/harmless.ts';

/** Text from anywhere as text of HTML and of SVG, in an element or in an attribute within double quotes. */
export const escaped = (text: string): string =>
  harmless(text).replace(/[&<>"']/g, (char) => ENTITIES[char] ?? char);

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};
