import { typeset } from './typeset.ts';

/** Whatever speaks of an option is for who makes the report, not for who reads it. */
export const forReaders = (said: string): string =>
  typeset(
    said
      .split(/(?<=\.) /)
      .filter((sentence) => !sentence.includes('--'))
      .join(' ')
      .replace(' (LEFT OUT below)', ''),
  );
