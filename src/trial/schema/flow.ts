import type { Data } from '../../text/source.ts';

/** A text that a reader of YAML would take for something else, on one line and inside brackets. */
const NOT_PLAIN = /^$|^[\s\-?&*!|>%@`"']|[:,[\]{}#"]|\s$|[^\P{C}]/u;

/** Data as YAML on one line, inside brackets. */
export function flow(data: Data): string {
  if (data === null) return '';
  if (typeof data === 'string') return NOT_PLAIN.test(data) ? JSON.stringify(data) : data;
  if (Array.isArray(data)) return `[${data.map(flow).join(', ')}]`;
  const entries = Object.entries(data).map(([key, value]) => `${flow(key)}: ${flow(value)}`);
  return `{${entries.join(', ')}}`;
}
