import { describe, expect, test } from 'vitest';
import { scatterOf } from '../../src/judge/doubt/weighings.ts';
import { compared } from '../../src/judge/two-policies.ts';
import { assessed } from '../assessed.ts';
import { judge } from '../run.ts';
import { trialWith } from './doubt/base.ts';

/*
 * What is decided and doubted exactly where a rule turns; the base trial is in doubt/base.ts, the sums are worked by
 * hand beside each.
 */

const codes = (text: string): string[] => judge(text).notes.map(({ code }) => code);

test('a limit may be one value: least and greatest the same', () => {
  // 456 g of waste in 24000 pages are 19 g a thousand.
  const { limits } = judge(trialWith({ limits: '{waste_per_thousand: {min: 19, max: 19}}' }));
  expect(limits.map(({ outcome, margin }) => [outcome, margin])).toEqual([['met', '0']]);
  expect(judge(trialWith({ limits: '{waste_per_thousand: {min: 19.1, max: 19}}' })).verdict).toBe('invalid');
});

test('exhausted with half of the fill used, within ± 2u: 199 + 0.82 g of 400 g is doubted, 199.5 + 0.82 g is not', () => {
  // Two weighings to 1 g: u = √(2/12) = 0.41 g; one to 0.1 g and one to 1 g: √(1.01/12) = 0.29 g.
  const used = (end: string): string[] =>
    codes(
      trialWith({
        cartridges: `[{slot: black, start_mass: 800, end_mass: ${end}, fill_mass: 400, residual_mass: 0, exhausted_at: 75200}]`,
        waste_container: null,
        batches: null,
      }),
    );
  expect(used('601')).toContain('exhausted-early');
  expect(used('600.5')).not.toContain('exhausted-early');
  expect(used('600')).not.toContain('exhausted-early');
});

describe('a limit on a part that no finding names', () => {
  const of = (inspection: string): (string | undefined)[] => {
    const { limits, notes } = judge(
      trialWith({ inspection, limits: '{worst_finding: {of: belt, max: none}}' }),
    );
    return [limits[0]?.outcome, ...notes.filter(({ kind }) => kind === 'error').map(({ code }) => code)];
  };

  test('is met where nothing at all was found, and no other part was named', () => {
    expect(of('[]')).toEqual(['met']);
    expect(of('[{stage: after, severity: none}]')).toEqual(['met']);
  });

  test('is an error where parts are named, or something was found on one that is not', () => {
    expect(of('[{part: fuser, severity: none}]')).toEqual([undefined, 'limit-of-unknown-part']);
    expect(of('[{stage: after, severity: minor}]')).toEqual([undefined, 'limit-of-unknown-part']);
  });
});

test('what is wrong is told in the order of the file, the limits among the rest', () => {
  const text = `limits: {yield: {of: cyan, min: 1}}
trial: Poplar Walk lot 12
meter: {start: 988000, end: 12000, digits: 6}
cartridges: [{slot: black, exhausted_at: 4000}]
`;
  const { verdict, notes } = judge(text);
  expect(verdict).toBe('invalid');
  expect(notes.map(({ line, code }) => [line, code])).toEqual([
    [1, 'limit-of-unknown-part'],
    [3, 'rolled-over'],
  ]);
});

test('under two sets of limits, what is no trial under one of them has no limits to compare', () => {
  const valid = assessed(trialWith());
  const invalid = { file: 't.yaml', verdict: 'invalid', findings: [] } as const;
  expect(compared(invalid, valid)).toMatchObject({ turns: true, limits: [] });
  expect(compared(valid, invalid)).toMatchObject({ turns: true, limits: [] });
  expect(compared(invalid, invalid)).toMatchObject({ turns: false, limits: [] });
  expect(compared(valid, valid)).toMatchObject({ turns: false, limits: [] });
});

test('a run of many weeks: a reading on its last day is of the run, one a month later is not', () => {
  const weeks = (at: string): string[] =>
    codes(
      trialWith({
        trial: '{title: Poplar Walk lot 12}',
        batches:
          '[{end: 63200, started: 2026-03-02T09:00, finished: 2026-03-02T16:00}, {end: 75200, started: 2026-04-27T09:00, finished: 2026-04-27T16:00}]',
        ambient: `[{at: ${at}, temperature: 21.5, humidity: 46}]`,
      }),
    );
  expect(weeks('2026-04-27T12:00')).not.toContain('reading-not-of-run');
  expect(weeks('2026-05-27T12:00')).toContain('reading-not-of-run');
});

describe('the caveat of findings', () => {
  const found = (...severities: string[]): string | undefined =>
    judge(
      trialWith({
        inspection: `[${severities.map((severity, at) => `{stage: after, part: part ${at}, severity: ${severity}}`).join(', ')}]`,
        limits: '{worst_finding: {max: critical}}',
      }),
    ).caveats.find(({ code }) => code === 'finding-major')?.message;

  test('counts the critical and the major ones, names the worst, and passes the others by', () => {
    expect(found('none', 'minor')).toBeUndefined();
    expect(found('minor', 'major', 'none')).toContain('part 1');
    const both = found('major', 'critical', 'minor');
    expect(both).toContain('part 1');
    expect(both?.match(/\d+|one/g)?.slice(0, 2)).toEqual(['1', '1']);
  });
});

test.each([
  ['19, 20 and 21', [19, 20, 21], 1],
  ['0.1, 0.2 and 0.3', [0.1, 0.2, 0.3], 0.1],
  ['0.7 three times', [0.7, 0.7, 0.7], 0],
])('the scatter of rates of %s g a thousand, each over a thousand clicks: %f', (_, rates, scatter) => {
  const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);
  const [waste, squares] = [sum(rates), sum(rates.map((rate) => rate ** 2))];
  expect(scatterOf({ waste, clicks: 3000, rates: waste, squares, variances: 0, count: 3 })).toBeCloseTo(
    scatter,
    7,
  );
});
