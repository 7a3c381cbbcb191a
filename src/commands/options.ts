import { harmless } from '../output/harmless.ts';
import { messageOf } from '../output/words.ts';
import type { Read } from '../problems/problem.ts';
import { type Kind, type Quantity, readQuantity } from '../trial/quantity.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { Refused } from '../world/refused.ts';

/** What an option's value reads to. @throws Refused as wrong usage, once said */
export function readOption<T>(option: string, outcome: Read<T>, io: Io): T {
  if ('value' in outcome) return outcome.value;
  io.err(`tallytare: ${option}: ${harmless(messageOf({ ...outcome.fault, path: [] }))}\n`);
  throw new Refused(EXIT.usage);
}

/** A number with or without its unit. @throws Refused */
export const quantityOption = (option: string, text: string, kind: Kind, io: Io): Quantity =>
  readOption(option, readQuantity(text, kind), io);
