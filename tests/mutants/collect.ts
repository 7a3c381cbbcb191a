import {
  chai,
  GLOBAL_EXPECT,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
  setState,
} from '@vitest/expect';
import fc from 'fast-check';

/*
 * Stands in for vitest where faults are planted: collects the tests, so that one process can run any of them as often
 * as it likes. Loading the program anew for every fault would take a hundred times as long.
 */

/** Cases of a property, where it does not say how many itself: most faults are found by the first few. */
fc.configureGlobal({ numRuns: 20 });

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);
export const expect = chai.expect;
Object.assign(globalThis, { [GLOBAL_EXPECT]: expect });
setState(
  { assertionCalls: 0, isExpectingAssertions: false, expectedAssertionsNumber: null },
  expect as never,
);

type Body = (...row: never[]) => unknown;

interface Hooks {
  readonly before: (() => void)[];
  readonly after: (() => void)[];
}

/** One test: its file, its name, and what runs it with everything that belongs before and after. */
export interface Collected {
  readonly file: string;
  readonly name: string;
  readonly run: () => void;
}

const collected: Collected[] = [];
let file = '';
let names: readonly string[] = [];
let around: readonly Hooks[] = [];

/** The tests of the file that is loaded next. */
export const collecting = (next: string): void => {
  [file, names, around] = [next, [], [{ before: [], after: [] }]];
};

export const collectedTests = (): readonly Collected[] => collected;

export function test(name: string, body: Body): void {
  const hooks = around;
  collected.push({
    file,
    name: [...names, name].join(' > '),
    run: () => {
      for (const { before } of hooks) for (const hook of before) hook();
      try {
        const result = body();
        if (result instanceof Promise) throw new Error('a test that waits cannot be run here');
      } finally {
        for (const { after } of hooks) for (const hook of after) hook();
      }
    },
  });
}

export function describe(name: string, body: Body): void {
  const outside = { names, around };
  names = [...names, name];
  around = [...around, { before: [], after: [] }];
  body();
  ({ names, around } = outside);
}

const each =
  (one: (name: string, body: Body) => void) =>
  (rows: readonly unknown[]) =>
  (name: string, body: Body): void => {
    rows.forEach((row, index) => {
      const values = (Array.isArray(row) ? row : [row]) as never[];
      one(`${name} [${index}]`, () => body(...values));
    });
  };

test.each = each(test);
test.runIf = (due: boolean) => (due ? test : (): void => undefined);
describe.each = each(describe);
export const it = test;

export const beforeEach = (hook: () => void): void => void around.at(-1)?.before.push(hook);
export const beforeAll = beforeEach;
export const afterEach = (hook: () => void): void => void around.at(-1)?.after.push(hook);
export const afterAll = afterEach;
