/** A JSON array written entry by entry, the same bytes as if it had been written whole. */
export const JSON_ARRAY = {
  /** What stands before an entry. */
  before: (index: number): string => (index === 0 ? '[\n' : ',\n'),
  /** An entry that was written as an object of its own. */
  entry: (object: string): string => object.replace(/^/gm, '  '),
  after: (entries: number): string => (entries === 0 ? '[]\n' : '\n]\n'),
} as const;
