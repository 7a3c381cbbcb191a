/** Serial numbers, and lots, that differ only in case or in the spaces around them are one: people type them by hand. */
export const typed = (name: string): string => name.trim().toLowerCase();

/** Whether two serial numbers, or lots, are one; null names none. */
export const sameTyped = (one: string | null, other: string | null): boolean =>
  one !== null && other !== null && typed(one) === typed(other);
