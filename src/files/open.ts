import type { Input } from '../archive/input.ts';
import { readSource, type Source, unreadable } from '../text/source.ts';
import { decode } from '../world/decode.ts';
import { type Io, systemWords } from '../world/io.ts';

/** A file as it was read: as a source, whatever becomes of it, and its bytes, unless it could not be opened. */
export interface Opened {
  readonly source: Source;
  readonly bytes: Uint8Array | null;
}

/** Opens a file and reads it once: what is judged and what is digested are the same bytes. */
export function open(io: Io, file: string, shownAs = file): Opened {
  let bytes: Uint8Array;
  try {
    bytes = io.read(file);
  } catch (error) {
    const problem = { code: 'file-unreadable', why: systemWords(error), path: [] } as const;
    return { source: unreadable(shownAs, problem), bytes: null };
  }
  const decoded = decode(bytes);
  const source = 'text' in decoded ? readSource(shownAs, decoded.text) : unreadable(shownAs, decoded.problem);
  return { source, bytes };
}

/** A file as a source, whatever becomes of it. */
export const openSource = (io: Io, file: string, shownAs = file): Source => open(io, file, shownAs).source;

/** A file that a verdict rests on, before its bytes are digested. */
export interface Used {
  readonly kind: Input['kind'];
  /** As the trial names it, or the command line; of a preset the preset's name. */
  readonly file: string;
  /** Null where it could not be opened, or there is no such preset. */
  readonly bytes: Uint8Array | null;
  /** Why it cannot be used, where it could not be opened. */
  readonly why: string | null;
}
