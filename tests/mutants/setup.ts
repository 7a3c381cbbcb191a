import { appendFileSync } from 'node:fs';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, inject } from 'vitest';

declare module 'vitest' {
  interface ProvidedContext {
    /** The planted fault that is taken; −1 for none. */
    fault: number;
    /** Where it is written down which faults a file of tests came to; empty for nowhere. */
    reached: string;
  }
}

/** Cases of a property, where it does not say how many itself: most faults are found by the first few. */
fc.configureGlobal({ numRuns: 20 });

const reached = new Set<number>();
/** Those of constants, which are worked out once, when the first file of tests is loaded. */
let atLoad: readonly number[] = [];
const taken = inject('fault');

/** Whether a planted fault is taken, asked by the code that holds it. */
Object.assign(globalThis, {
  planted: (fault: number): boolean => {
    reached.add(fault);
    return fault === taken;
  },
});

beforeAll(() => {
  atLoad = [...reached];
});

afterAll(() => {
  const file = inject('reached');
  if (file === '') return;
  const { testPath } = expect.getState();
  appendFileSync(file, `${JSON.stringify({ testPath, atLoad, reached: [...reached] })}\n`);
});
