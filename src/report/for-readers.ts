import { typeset } from './typeset.ts';

/** Whatever speaks of an option is for who makes the report, not for who reads it. */
export const withoutOptions = (said: string): string =>
  said
    .split(/(?<=\.) /)
    .filter((sentence) => !sentence.includes('--'))
    .join(' ')
    .replace(' (LEFT OUT below)', '');

/** The report's own words, without options, and set as print sets them. */
export const forReaders = (said: string): string => typeset(withoutOptions(said));
