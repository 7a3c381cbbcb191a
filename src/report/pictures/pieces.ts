/** Rows that a picture of many may have, to stand whole on a page. */
export const MOST_ROWS = 20;

/** A list in pieces of at most so many; an empty list has none. */
export function inPieces<T>(list: readonly T[], most = MOST_ROWS): T[][] {
  const pieces: T[][] = [];
  for (let at = 0; at < list.length; at += most) pieces.push(list.slice(at, at + most));
  return pieces;
}
