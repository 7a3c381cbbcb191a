/**
 * Text from a file made harmless for a terminal and for plain lines: nothing that moves a cursor,
 * colours, breaks a line or turns the direction of writing gets through. Line breaks and tabs become
 * spaces, other control characters their visible pictures (U+2400 and on), the rest U+FFFD.
 */
export function harmless(text: string): string {
  return text.toWellFormed().replace(UNSAFE, (char) => {
    const code = char.codePointAt(0) ?? 0;
    if (char === '\n' || char === '\t' || char === '\r') return ' ';
    if (code < 0x20) return String.fromCodePoint(0x2400 + code);
    return code === 0x7f ? '\u2421' : '\uFFFD';
  });
}

/** Control characters (C0, DEL, C1), marks and overrides of direction, line and paragraph separators, the byte order mark. */
const UNSAFE = /[\p{Cc}\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/gu;

/** JSON with everything escaped that a terminal might obey; JSON itself escapes the C0 controls in its texts. */
export function harmlessJson(value: unknown, indent = 0): string {
  return JSON.stringify(value, null, indent).replace(UNSAFE, (char) =>
    char === '\n' ? char : `\\u${char.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}
