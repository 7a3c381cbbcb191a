import type { Report } from './content.ts';
import { marker } from './escape.ts';

/** Strings of a report that are no text to be read: addresses, and what is drawn already. */
const NO_TEXT: ReadonlySet<string> = new Set(['link', 'base64', 'strip']);

/** Every text anywhere in a value. */
export function textsIn(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  if (value === null || typeof value !== 'object') return [];
  return Object.values(value).flatMap(textsIn);
}

/** A report in which every text of the files is marked wherever it stands; see `escape.ts`. */
export function withOwnTexts(report: Report): Report {
  const mark = marker(report.texts ?? []);
  const marked = (value: unknown): unknown => {
    if (typeof value === 'string') return mark(value);
    if (value === null || typeof value !== 'object') return value;
    if (Array.isArray(value)) return value.map(marked);
    return Object.fromEntries(
      Object.entries(value).map(([key, one]: [string, unknown]) => [
        key,
        typeof one === 'string' && NO_TEXT.has(key) ? one : marked(one),
      ]),
    );
  };
  const { data, texts, ...said } = report;
  return { ...(marked(said) as typeof said), ...(data && { data }), ...(texts && { texts }) };
}
