import type { Command } from 'commander';
import type { Io } from '../world/io.ts';

/** Puts one command on the program: its words, options and help, and what it does; its exit code goes to `done`. */
export type Define = (program: Command, io: Io, done: (code: number) => void) => void;

/** An option that may be given again. */
export const collect = (value: string, before: readonly string[] | undefined): readonly string[] => [
  ...(before ?? []),
  value,
];
