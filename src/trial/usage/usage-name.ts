/** A name of a file, where a mass would stand. */
export const isUsageName = (text: string): boolean => /\.ya?ml$/i.test(text.trim());
