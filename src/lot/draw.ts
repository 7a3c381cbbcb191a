import { byText } from '../trial/by-text.ts';

/** Which cartridges of a lot are to be taken, numbered from 1 on, in the order they are tried. */
export interface Draw {
  readonly seed: string;
  readonly numbers: readonly number[];
}

/** A digest in hexadecimal: SHA-256. */
export type Digest = (bytes: Uint8Array) => string;

/**
 * So many of the cartridges 1 to `size`, drawn by a seed: those whose digests of "SEED NUMBER" come first. Whoever has
 * the seed can draw them again, with any tool that makes digests; nobody can choose them by hand.
 */
export function draw(size: number, count: number, seed: string, digest: Digest): Draw {
  const encoder = new TextEncoder();
  const all = Array.from({ length: size }, (_, index): [string, number] => [
    digest(encoder.encode(`${seed} ${index + 1}`)),
    index + 1,
  ]);
  all.sort(([a], [b]) => byText(a, b));
  return { seed, numbers: all.slice(0, count).map(([, number]) => number) };
}
