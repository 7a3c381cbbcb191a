/** Numbers and signs as print sets them; for the report's own words, never for what a file says. */

const NARROW = '\u202f';
const FIXED = '\u00a0';

/** Five digits and more; a serial number, a day, a version, a fraction or the number of a standard is none of these. */
const LONG_NUMBER = /(?<![\p{L}\d.,_#/:-]|(?:ISO|IEC|CIE|JCGM) )\d{5,}(?![\p{L}\d_#/:]|-\d|\.\d+\.)/gu;

/** A unit behind a number; a word may stand on the next line, a unit not. */
const UNIT =
  /(\d) (?=(?:%|°C|pages?|sheets?|mg|g|kg|mm|GU|ΔE00|u|[A-Z]{3})(?![\p{L}\d])|(?:mg\/cm²|g\/m[²³]))/gu;

const thousands = (digits: string): string => digits.replace(/\B(?=(?:\d{3})+$)/g, NARROW);

/**
 * A text with a true minus, thousands apart by a narrow space (from five digits on, as ISO 80000-1 lets
 * four stand together), and with ± and units that stay on the line of their number.
 */
export const typeset = (text: string): string =>
  text
    .replace(/(?<![\p{L}\d.)_-])-(?=\d)/gu, '−')
    .replace(LONG_NUMBER, thousands)
    .replaceAll(' ± ', `${FIXED}±${FIXED}`)
    .replace(UNIT, `$1${FIXED}`);
