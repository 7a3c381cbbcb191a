import { harmless } from '../output/harmless.ts';
import { messageOf } from '../output/words.ts';
import type { Read } from '../trial/problem.ts';
import { type Kind, type Quantity, readQuantity } from '../trial/quantity.ts';
import { EXIT } from './exit.ts';
import type { Io } from './io.ts';

/** Something that keeps a command from doing its work; said already. Caught where the command is called. */
export class Refused extends Error {
  constructor(readonly code: number) {
    super();
  }
}

/** What an option's value reads to. @throws Refused as wrong usage, once said */
export function readOption<T>(option: string, outcome: Read<T>, io: Io): T {
  if ('value' in outcome) return outcome.value;
  io.err(`tallytare: ${option}: ${harmless(messageOf({ ...outcome.fault, path: [] }))}\n`);
  throw new Refused(EXIT.usage);
}

/** A number with or without its unit. @throws Refused */
export const quantityOption = (option: string, text: string, kind: Kind, io: Io): Quantity =>
  readOption(option, readQuantity(text, kind), io);

/** The exit code of a command's work, or the one it was refused with. */
export function refusable(work: () => number): number {
  try {
    return work();
  } catch (error) {
    if (error instanceof Refused) return error.code;
    throw error;
  }
}
