import { describe, expect, test } from 'vitest';
import { Gathered, mixtureIn, pooledFrom, takenFrom } from '../../src/pool/gathered.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { assessed } from '../assessed.ts';

/* What is kept of trials, and what keeps them from being pooled. The trials are invented. */

const trial = (serial: string, more = ''): string => `trial: Weir Street ${serial}
meter: {start: 30000, end: 42000}
coverage: 5 %
cartridges: [{slot: black, serial: ${serial}, exhausted_at: 42000}]
${more}`;

/** Trials by file, each with its cartridge and more of the file. */
const gathered = (
  ...trials: readonly (readonly [file: string, serial: string, more?: string])[]
): Gathered => {
  const all = new Gathered({ figure: 'pages', of: null });
  for (const [file, serial, more] of trials) all.take(assessed(trial(serial, more), file));
  return all;
};

const RULE = { by: null, confidence: { level: 0.9, tail: 'one-sided' }, few: false } as const;
const planning = (pages: number): string => `target: {claim: ${pages}}\n`;
const pooled = (own: Gathered, given: number | null = null) =>
  pooledFrom(own, { ...RULE, claim: given === null ? null : new Decimal(given) });

describe('the claim', () => {
  const claims = (own: Gathered, given: number | null = null) => {
    const found = pooled(own, given);
    return {
      claim: found.claim?.toFixed(),
      listed: found.pooled.claims.map((one) => one.toFixed()),
      judged: found.pooled.groups.map(({ claim }) => claim?.pages.toFixed()),
    };
  };

  test('is the one that all trials plan for', () => {
    const own = gathered(['a', 'S-1', planning(11000)], ['b', 'S-2', planning(11000)], ['c', 'S-3']);
    expect(claims(own)).toEqual({ claim: '11000', listed: [], judged: ['11000'] });
  });

  test('is none where they do not agree: each is listed once', () => {
    const own = gathered(
      ['a', 'S-1', planning(11000)],
      ['b', 'S-2', planning(12000)],
      ['c', 'S-3', planning(11000)],
    );
    expect(claims(own)).toEqual({ claim: undefined, listed: ['11000', '12000'], judged: [undefined] });
  });

  test('is the one that is given, whatever they plan for', () => {
    const own = gathered(['a', 'S-1', planning(11000)], ['b', 'S-2', planning(12000)]);
    expect(claims(own, 9000)).toEqual({ claim: '9000', listed: [], judged: ['9000'] });
  });

  test('is none where none is planned for', () => {
    expect(claims(gathered(['a', 'S-1']))).toEqual({ claim: undefined, listed: [], judged: [undefined] });
  });
});

describe('what keeps trials from being pooled', () => {
  const at = (percent: number): string => `limits: {reference_coverage: ${percent} %}\n`;

  test('reference coverages that differ: the first trial of each is named', () => {
    const own = gathered(['a', 'S-1'], ['b', 'S-2', at(5)], ['c', 'S-3', at(4)], ['d', 'S-4', at(4)]);
    const of = [
      ['5', 'a'],
      ['4', 'c'],
    ];
    expect(mixtureIn([own])).toEqual({ kind: 'coverages', of });
    // Or those of two sets that are compared.
    expect(mixtureIn([gathered(['a', 'S-1']), gathered(['c', 'S-3', at(4)])])).toEqual({
      kind: 'coverages',
      of,
    });
  });

  test('one cartridge in two of them', () => {
    const found = mixtureIn([gathered(['a', 'S-1']), gathered(['b', 'S-2'], ['c', 'S-1'])]);
    expect(found?.kind === 'twice' && found.cartridges.map(({ file }) => file)).toEqual(['a', 'c']);
  });

  test('nothing else', () => {
    expect(mixtureIn([gathered(['a', 'S-1'], ['b', 'S-2']), gathered()])).toBeNull();
  });
});

test('a pool has the reference coverage of its trials; 5 % where there is none', () => {
  const coverage = (own: Gathered) => pooled(own).pooled.referenceCoverage.toFixed();
  expect(coverage(gathered(['a', 'S-1', 'limits: {reference_coverage: 4 %}\n']))).toBe('4');
  expect(coverage(gathered())).toBe('5');
});

test('of a trial its cartridges, its claim and the figure that is followed are kept', () => {
  const result = assessed(trial('S-1', planning(11000)), 'a');
  expect(takenFrom(result, { figure: 'pages', of: null })).toMatchObject({
    file: 'a',
    coverage: '5',
    claim: '11000',
    point: { value: 12000 },
  });
  expect(takenFrom(result, null).point).toBeNull();
  expect(takenFrom(assessed(trial('S-1')), null).claim).toBeNull();
});

test('the figure that is followed is charted over the trials that have it', () => {
  const own = gathered(['a', 'S-1'], ['b', 'S-2']);
  own.add({ ...takenFrom(assessed(trial('S-3'), 'c'), null), point: null });
  expect(pooled(own).pooled.trend?.points.map(({ file }) => file)).toEqual(['a', 'b']);
  expect(pooled(new Gathered(null)).pooled.trend).toBeNull();
});

test('kept apart by lot, every group comes with its own cartridges', () => {
  const lot = (id: string): string => `lot: {id: ${id}}\n`;
  const own = gathered(['a', 'S-1', lot('K-1')], ['b', 'S-2', lot('K-2')], ['c', 'S-3', lot('K-1')]);
  const { groups } = pooledFrom(own, { ...RULE, by: 'lot', claim: null });
  expect(
    groups.map(([group, cartridges]) => [group.inCommon?.key, cartridges.map(({ file }) => file)]),
  ).toEqual([
    ['K-1', ['a', 'c']],
    ['K-2', ['b']],
  ]);
});
