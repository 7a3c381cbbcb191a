/** Readings as people call them, where a sentence names them by their keys: waste container final. */

const KEY =
  /\b[a-z]{2,}(?:_[a-z]+)*(?:\[\d+\])?(?:\.[a-z]+(?:_[a-z]+)*(?:\[\d+\])?)+\b|\b[a-z]{2,}(?:_[a-z]+)+\b/g;

/** Names of files look like keys of two parts. */
const FILE = /\.(?:ya?ml|csv|pdf|png|jpe?g|webp|html|md|txt)$/;

/** A sentence without key names. */
export const withoutKeys = (text: string): string =>
  text.replace(KEY, (key) =>
    FILE.test(key)
      ? key
      : key.replace(/\[(\d+)\]/g, (_, index: string) => ` ${Number(index) + 1}`).replace(/[._]/g, ' '),
  );
