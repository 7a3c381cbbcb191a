/** Orders texts by their characters: the same everywhere, whatever the language of the machine. */
export const byText = (a: string, b: string): number => Number(a > b) - Number(a < b);
