/** Something that keeps a command from doing its work; said already. Caught where the command is called. */
export class Refused extends Error {
  constructor(readonly code: number) {
    super();
  }
}

/** The exit code of a command's work, or the one it was refused with. */
export function refusable(work: () => number): number {
  try {
    return work();
  } catch (error) {
    if (error instanceof Refused) return error.code;
    throw error;
  }
}
