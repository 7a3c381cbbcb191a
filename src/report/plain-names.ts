/** Readings as people call them, where a sentence names them by their keys: waste container final. */

const KEY =
  /\b[a-z]{2,}(?:_[a-z]+)*(?:\[\d+\])?(?:\.[a-z]+(?:_[a-z]+)*(?:\[\d+\])?)+(?!\w)|\b[a-z]{2,}(?:_[a-z]+)+\b/g;

/** Names of files look like keys of two parts. */
const FILE = /\.(?:ya?ml|csv|pdf|png|jpe?g|webp|html|md|txt)$/;

/** The three numbers of a colour, as their places are counted. */
const LAB: Readonly<Record<string, string>> = { 1: 'L*', 2: 'a*', 3: 'b*' };

/** A sentence without key names. */
export const withoutKeys = (text: string): string =>
  text.replace(KEY, (key) =>
    FILE.test(key)
      ? key
      : key
          .replace(/\.lab\[([123])\]$/, (_, place: string) => ` ${LAB[place] ?? ''}`)
          .replace(/\[(\d+)\]/g, ' $1')
          .replace(/[._]/g, ' '),
  );
