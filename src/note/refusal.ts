import type { Fault } from '../problems/problem.ts';
import type { Path } from '../uncertainty/path.ts';

/** Why a note is not taken, as data; `path` is the place in the file that speaks against it. */
export type Refusal =
  /** What an option was given cannot be read. */
  | { readonly code: 'misread'; readonly option: string; readonly fault: Fault }
  /** Two things are to be noted at once. */
  | { readonly code: 'two-at-once'; readonly options: readonly string[] }
  /** An option has no part in what is noted. */
  | {
      readonly code: 'no-part';
      readonly option: string;
      readonly of: string;
      readonly instead: string | null;
    }
  /** Something is to be noted that needs another option. */
  | { readonly code: 'lacks'; readonly of: string; readonly needs: string }
  /** A part of `--fitted` that is not of a cartridge. */
  | {
      readonly code: 'no-key';
      readonly option: string;
      readonly key: string;
      readonly known: readonly string[];
    }
  /** What stands there takes no entry: a list in a table of its own (null where it is something else). */
  | { readonly code: 'no-place'; readonly table: string | null; readonly path: Path }
  | { readonly code: 'no-cartridge'; readonly slot: string; readonly slots: readonly string[] }
  /** Another reading stands there, and it was not said to be wrong. */
  | { readonly code: 'already-read'; readonly is: string; readonly value: string; readonly path: Path }
  /** All of it stands there already. */
  | { readonly code: 'nothing-new'; readonly path: Path };

/** Thrown where a note is not taken; caught in `whatToNote`. */
export class NotTaken extends Error {
  constructor(readonly refusal: Refusal) {
    super(refusal.code);
  }
}

/** What is wrong with the command line rather than with the trial. */
export const isUsage = ({ code }: Refusal): boolean =>
  code === 'misread' || code === 'two-at-once' || code === 'no-part' || code === 'lacks' || code === 'no-key';
