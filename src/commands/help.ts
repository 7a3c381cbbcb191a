/** The exit codes in words, for --help. */
export const EXIT_CODES = `
Exit codes: 0 pass, 1 fail, 2 inconclusive, 3 a trial or limits file is missing
or could not be read as one, 4 wrong usage, 5 anything else. Over many files:
3 if any could not be read, else 1 if any failed, else 2 if any is inconclusive.`;

/** What a folder on the command line stands for, for --help. */
export const MANY_FILES = `
Of a folder every .yaml and .yml below it is taken, in the order of their paths;
hidden ones, node_modules, links to folders, sets of limits and mixes of pages
are passed over.`;
