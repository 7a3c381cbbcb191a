/** Text that YAML takes for itself as it stands, everywhere a value may be. */
const PLAIN = /^[\p{L}\d][\p{L}\d ./%\u00b0\u00b2_+-]*$/u;
/** Words that YAML takes for something else. */
const WORD = /^(null|true|false|yes|no|on|off|~)$/i;

/** A value as YAML; nothing for one that is not known. */
export function scalar(text: string | undefined): string {
  if (text === undefined) return '';
  return PLAIN.test(text) && !WORD.test(text) && text.trim() === text ? text : quoted(text);
}

/** JSON's way of writing a text is one of YAML's. */
export const quoted = (text: string): string => JSON.stringify(text);
