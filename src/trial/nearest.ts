import { distance } from 'fastest-levenshtein';

/** The known word nearest to a written one, where it is near enough to be meant, and at most `most` letters off; else null. */
export function nearest(written: string, known: readonly string[], most = Infinity): string | null {
  if (written.length > 40) return null;
  const plain = (word: string): string => word.toLowerCase().replace(/[-\s]/g, '_');
  let best: string | null = null;
  let least = Math.min(most, Math.max(2, Math.floor(written.length / 3))) + 1;
  for (const word of known) {
    const apart = distance(plain(written), plain(word));
    if (apart < least) [best, least] = [word, apart];
  }
  return best;
}
