import { type Command, Option } from 'commander';
import type { Io } from '../world/io.ts';

/** Puts one command on the program: its words, options and help, and what it does; its exit code goes to `done`. */
export type Define = (program: Command, io: Io, done: (code: number) => void) => void;

/** An option that may be given again. */
export const collect = (value: string, before: readonly string[] | undefined): readonly string[] => [
  ...(before ?? []),
  value,
];

/** `--limits-only`, beside `--limits`. */
export const limitsOnly = (): Option =>
  new Option('--limits-only <file|preset>', 'these limits alone, without the file’s own; may be given again')
    .argParser<readonly string[] | undefined>(collect)
    .conflicts('limits');
