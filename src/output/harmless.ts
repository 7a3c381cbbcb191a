/** More characters than any title, name or note needs to be known by; measuring and breaking more takes long. */
const LONGEST = 2000;

/**
 * Text from a file made harmless for a terminal and for plain lines: nothing that moves a cursor,
 * colours, breaks a line, turns the direction of writing or hides gets through. Line breaks and tabs become
 * spaces, other control characters their visible pictures (U+2400 and on), the rest U+FFFD. What is very long
 * is cut.
 */
export const harmless = (text: string): string =>
  text.length > LONGEST ? `${harmlessWhole(text.slice(0, LONGEST))}…` : harmlessWhole(text);

/** The same, of any length: for tables and files that programs read. */
export function harmlessWhole(text: string): string {
  return text.toWellFormed().replace(UNSAFE, (char) => {
    const code = char.codePointAt(0) ?? 0;
    if (char === '\n' || char === '\t' || char === '\r') return ' ';
    if (code < 0x20) return String.fromCodePoint(0x2400 + code);
    return code === 0x7f ? '\u2421' : '\uFFFD';
  });
}

/**
 * Control characters (C0, DEL, C1), characters of format, which take no room or turn the direction of writing,
 * and line and paragraph separators. The two that join and part letters stay between letters that are not ASCII,
 * whose scripts need them.
 */
const UNSAFE =
  /[\u200c\u200d](?![^\0-\x7f])|(?<![^\0-\x7f])[\u200c\u200d]|(?![\u200c\u200d])[\p{Cc}\p{Cf}\u2028\u2029]/gu;

/** JSON with everything escaped that a terminal might obey; JSON itself escapes the C0 controls in its texts. */
export function harmlessJson(value: unknown, indent = 0): string {
  return JSON.stringify(value, null, indent).replace(UNSAFE, (char) =>
    char === '\n'
      ? char
      : Array.from({ length: char.length }, (_, at) => escaped(char.charCodeAt(at))).join(''),
  );
}

const escaped = (unit: number): string => `\\u${unit.toString(16).padStart(4, '0')}`;
