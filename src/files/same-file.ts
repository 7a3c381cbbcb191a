import { join } from 'node:path';
import type { Io } from '../world/io.ts';

/** Whether two names lead to one file. */
export function sameFile(a: string, b: string, io: Io): boolean {
  if (join(a) === join(b)) return true;
  try {
    return io.real(a) === io.real(b);
  } catch {
    // What is not there yet is no other file.
    return false;
  }
}
