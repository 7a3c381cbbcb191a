/** The exit codes in words, for --help. */
export const EXIT_CODES = `
Exit codes: 0 pass, 1 fail, 2 inconclusive, 3 a trial or limits file is missing
or could not be read as one, 4 wrong usage, 5 anything else. Over many files:
3 if any could not be read, else 1 if any failed, else 2 if any is inconclusive.`;
