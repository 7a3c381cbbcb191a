/** Exit codes, as documented in the README and in --help. */
export const EXIT = {
  pass: 0,
  fail: 1,
  inconclusive: 2,
  /** A trial or limits file is missing, or could not be read as one. */
  unreadable: 3,
  /** An unknown command, option or preset. */
  usage: 4,
  /** Anything else: the output cannot be written, say. */
  other: 5,
} as const;
