/** How far a list is read before it is known whether its names end with a line or with NUL. */
const TELLING = 65536;
const NUL = 0;
const LINE_FEED = 10;
const NOT_KNOWN = -1;

/**
 * The names in a list of any length that comes piece by piece, each ended by a line break or by NUL, empty
 * ones passed over. A name with a line break in it needs a list whose names end with NUL.
 */
export function* namesIn(pieces: Iterable<Uint8Array>): Generator<string> {
  const decoder = new TextDecoder();
  let rest: Uint8Array = new Uint8Array();
  let end = NOT_KNOWN;
  const text = (bytes: Uint8Array): string => {
    const name = decoder.decode(bytes);
    return end === NUL ? name : name.replace(/\r$/, '');
  };
  function* names(): Generator<string> {
    if (end === NOT_KNOWN) end = rest.includes(NUL) ? NUL : LINE_FEED;
    let from = 0;
    for (let at = rest.indexOf(end); at !== -1; at = rest.indexOf(end, from)) {
      const name = text(rest.subarray(from, at));
      from = at + 1;
      if (name !== '') yield name;
    }
    rest = rest.slice(from);
  }
  for (const piece of pieces) {
    const joined = new Uint8Array(rest.length + piece.length);
    joined.set(rest);
    joined.set(piece, rest.length);
    rest = joined;
    if (end !== NOT_KNOWN || rest.length >= TELLING) yield* names();
  }
  yield* names();
  const last = text(rest);
  if (last !== '') yield last;
}
