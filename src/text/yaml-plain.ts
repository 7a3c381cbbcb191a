/**
 * The texts that the quick reader of YAML is asked about: those that keep to the plain subset in which it reads as
 * the careful one does, which a differential fuzz of the two holds. What the quick reader takes more easily than
 * YAML 1.2 allows, or otherwise, stands outside of it: anchors, tags, directives, document marks, block scalars,
 * escapes, quotes over several lines, anything behind a closed bracket, odd line ends and blanks.
 */

/** Signs that no trial written by hand has: escapes, tabs and other controls, blanks and line ends of old. */
const ODD_SIGN = /[\\\p{Cs}\p{Zl}\p{Zp}\ufeff\ufffe\uffff]|(?![\n\r])\p{Cc}|\r(?!\n)/u;

/** A directive, or a document mark, wherever it begins a line. */
const OF_DOCUMENTS = /^(?:%|[ ]*(?:---|\.\.\.))/;

/** A quoted text where a value may stand, with what may follow it. */
const QUOTED = /(^|[\s,[{])(?:"[^"]*"|'[^']*')(?=[ ]*(?:$|[,\]}]|:(?:[ ]|$)|[ ]#))/g;
const LEFT_QUOTE = /"|(?:^|[\s,[{:-])'/;

/** Signs that make more of a node than a value, where a node may begin. */
const NODE_SIGN = /(?:^|[\s,[{(:-])(?:[&*!@`|>]|[?:](?=[\s,[\]{}]|$))/;

/** A closed bracket, and behind it more than a comma, another one, or the end of the line. */
const BEHIND_BRACKET = /[\]}](?![ ]*(?:$|[,\]}]))/;

/** A comment that is not set apart from what is before it. */
const COMMENT_TOO_CLOSE = /[,[\]{}"':]#/;

/** A list, or a second key, behind a key on its line. */
const ON_ITS_LINE = /:[ ]+(?:-(?:[ ]|$)|.*:(?:[ ]|$))/;

/** A comma or a bracket that begins a value, or a dash alone among commas. */
const STRAY = /^[ ]*,|[[{,][ ]*,|(?:^|[\s,[{])-(?=[,\]}])/;

/** A longer line is no trial's; regular expressions take memory by its length. */
const LONGEST_LINE = 100_000;

/** Whether a text keeps to the plain subset. */
export function isPlain(text: string): boolean {
  return !ODD_SIGN.test(text) && text.split('\n').every(isPlainLine);
}

function isPlainLine(line: string): boolean {
  if (line.length > LONGEST_LINE || OF_DOCUMENTS.test(line)) return false;
  const told = line.trimEnd().replace(QUOTED, '$1x');
  if (COMMENT_TOO_CLOSE.test(told)) return false;
  const bare = told.replace(/(?:^|[ ]+)#.*$/, '');
  if (LEFT_QUOTE.test(bare) || NODE_SIGN.test(bare) || BEHIND_BRACKET.test(bare) || STRAY.test(bare))
    return false;
  // Keys may stand behind each other inside brackets only.
  return /[[\]{}]/.test(bare) || !ON_ITS_LINE.test(bare);
}
