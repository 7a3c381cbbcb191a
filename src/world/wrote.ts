import { harmless } from '../output/harmless.ts';
import { type Io, systemWords } from './io.ts';

/** Writes a file, and says it where that could not be done; whether it was. */
export function wrote(file: string, write: () => void, io: Io): boolean {
  try {
    write();
    return true;
  } catch (error) {
    io.err(`tallytare: ${harmless(file)} was not written: ${systemWords(error, 'write')}\n`);
    return false;
  }
}
