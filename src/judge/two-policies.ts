import { figureKey } from '../figures/figure.ts';
import { grouped } from '../trial/grouped.ts';
import type { Result } from './assess.ts';
import type { Judged } from './judge.ts';

/** A figure under two sets of limits, where these do not say the same of it; null where one has no limit on it. */
export interface Turned {
  readonly before: Judged | null;
  readonly after: Judged | null;
}

/** A trial judged under two sets of limits. */
export interface Compared {
  readonly file: string;
  readonly before: Result;
  readonly after: Result;
  /** The verdict is another. */
  readonly turns: boolean;
  /** The limits of which the edges, the effect or the outcome differ, in the order of the figures. */
  readonly limits: readonly Turned[];
}

/** What another set of limits changes of a trial. */
export function compared(before: Result, after: Result): Compared {
  const limits =
    before.verdict === 'invalid' || after.verdict === 'invalid' ? [] : turned(before.judged, after.judged);
  return { file: after.file, before, after, turns: before.verdict !== after.verdict, limits };
}

/** A limit for all cartridges and one for black alone may both hold for black: they are paired in their order. */
function turned(before: readonly Judged[], after: readonly Judged[]): Turned[] {
  const [was, is] = [byFigure(before), byFigure(after)];
  return [...new Set([...was.keys(), ...is.keys()])].flatMap((key): Turned[] => {
    const [old, now] = unlike(was.get(key) ?? [], is.get(key) ?? []);
    const pairs = Math.max(old.length, now.length);
    return Array.from({ length: pairs }, (_, index) => ({
      before: old[index] ?? null,
      after: now[index] ?? null,
    }));
  });
}

const byFigure = (judged: readonly Judged[]): ReadonlyMap<string, readonly Judged[]> =>
  grouped(judged, ({ derived }) => figureKey(derived));

/** Those of each that the other has not. */
function unlike(before: readonly Judged[], after: readonly Judged[]): [Judged[], Judged[]] {
  const [was, is] = [new Set(before.map(said)), new Set(after.map(said))];
  return [before.filter((one) => !is.has(said(one))), after.filter((one) => !was.has(said(one)))];
}

const said = ({ limit: { min, max, currency }, effect, outcome }: Judged): string =>
  JSON.stringify([min?.toFixed(), max?.toFixed(), currency, effect, outcome]);
