import { describe, expect, test } from 'vitest';
import { run } from '../run.ts';

/*
 * 18 000 pages and 308 g, 468 g, 238 g of waste: 17.1 g, 26 g and 13.2 g for a thousand pages, by hand. Black yields
 * 18 000 pages, exhausted.
 */
const trial = (title: string, final: string, limits = 'limits: [old.yaml]'): string => `trial: ${title}
meter: {start: 112480, end: 130480}
coverage: 5 %
waste_container: {tare: 640 g, final: ${final}}
cartridges: [{slot: black, exhausted_at: 130480, exhausted_by: fade}]
${limits}
`;

const FILES = {
  'arc/a.yaml': trial('Harbour Street lot 7', '948 g'),
  'arc/b.yaml': trial('Harbour Street lot 8', '1108 g'),
  'arc/c.yaml': trial('Harbour Street lot 9', '878 g'),
  'arc/old.yaml': 'waste_per_thousand: {max: 25 g}\n',
  'new.yaml': 'waste_per_thousand: {max: 15 g}\n',
};

interface CompareJson {
  readonly file: string;
  readonly before: string;
  readonly after: string;
  readonly turns: boolean;
  readonly limits: readonly object[];
  readonly errors: readonly string[];
}
const json = (files: Readonly<Record<string, string>>, ...argv: string[]): CompareJson[] =>
  JSON.parse(run(['compare', 'arc', '--format', 'json', ...argv], files).out) as CompareJson[];

describe('compare', () => {
  test('which verdicts turn, by which limit, by how much; then a table over all', () => {
    const { code, out, err } = run(['compare', 'arc', '--limits', 'new.yaml'], FILES);
    expect(err).toBe('');
    expect(code).toBe(1);
    expect(out.replace(/\s+/g, ' ')).toContain('pass to fail arc/a.yaml');
    expect(out.replace(/\s+/g, ' ')).toContain(
      'waste per thousand pages: at most 25 g, met by 7.889 g; now at most 15 g, missed by 2.111 g',
    );
    expect(out).not.toContain('arc/b.yaml');
    expect(out).not.toContain('arc/c.yaml');
    expect(out).toContain('        1  pass to fail\n');
    expect(out).toContain('        1  fail as before\n');
    expect(out).toContain('        1  pass as before\n');
    expect(out).toContain('\nVerdicts that turn: 1 of 3.\n');
  });

  test('json has every trial, with both sides of each limit that differs', () => {
    const [a, b, c] = json(FILES, '--limits', 'new.yaml');
    expect([a?.turns, b?.turns, c?.turns]).toEqual([true, false, false]);
    // 308 g / 18 = 17.1 recurring, 15 less it −2.1 recurring.
    expect(a).toMatchObject({
      before: 'pass',
      after: 'fail',
      errors: [],
      limits: [
        {
          figure: 'waste_per_thousand',
          unit: 'g',
          before: { value: '17.1111111111', max: '25', outcome: 'met', margin: '7.88888888889' },
          after: { value: '17.1111111111', max: '15', outcome: 'missed', margin: '-2.11111111111' },
        },
      ],
    });
    expect(b).toMatchObject({ before: 'fail', after: 'fail' });
  });

  test('csv: a row for each limit that differs, or one for the trial', () => {
    const { out } = run(['compare', 'arc', '--limits', 'new.yaml', '--format', 'csv'], FILES);
    const rows = out.trimEnd().split('\r\n');
    expect(rows).toHaveLength(4);
    expect(rows[0]).toContain('file,trial,before,after,turns,figure,of,stat,unit,value_before,');
    expect(rows[1]).toBe(
      'arc/a.yaml,Harbour Street lot 7,pass,fail,true,waste_per_thousand,,,g,17.1111111111,,25,fails,met,7.88888888889,17.1111111111,,15,fails,missed,-2.11111111111',
    );
    const same = run(['compare', 'arc', '--limits', 'arc/old.yaml', '--format', 'csv'], FILES);
    expect(same.code).toBe(0);
    expect(same.out.split('\r\n')[1]).toMatch(/^arc\/a.yaml,Harbour Street lot 7,pass,pass,false,+$/);
  });

  test('--against lays the old limits over the trials too', () => {
    const files = { ...FILES, 'strict.yaml': 'waste_per_thousand: {max: 10 g}\n' };
    const [a, b, c] = json(files, '--limits', 'new.yaml', '--against', 'strict.yaml');
    expect([a?.before, b?.before, c?.before]).toEqual(['fail', 'fail', 'fail']);
    expect([a?.after, b?.after, c?.after]).toEqual(['fail', 'fail', 'pass']);
  });

  test('--limits-only drops a limit, and one for all replaces one for black', () => {
    const own = 'limits: {waste_per_thousand: {max: 10 g}, yield_at_reference: {of: black, min: 19000}}';
    const files = {
      'arc/a.yaml': trial('Harbour Street lot 7', '948 g', own),
      'only.yaml': 'yield_at_reference: {min: 17000}\n',
    };
    expect(json(files, '--limits', 'only.yaml')[0]).toMatchObject({ before: 'fail', after: 'fail' });
    const [alone] = json(files, '--limits-only', 'only.yaml');
    expect(alone).toMatchObject({ before: 'fail', after: 'pass', turns: true });
    expect(alone?.limits).toMatchObject([
      { figure: 'waste_per_thousand', before: { outcome: 'missed' }, after: null },
      { figure: 'yield_at_reference', of: 'black', before: { min: '19000' }, after: { min: '17000' } },
    ]);
    expect(run(['verdict', 'arc', '--limits-only', 'only.yaml', '-q'], files)).toMatchObject({
      code: 0,
      out: 'pass\tarc/a.yaml\n',
    });
    expect(run(['verdict', 'arc', '--limits', 'only.yaml', '-q'], files).code).toBe(1);
  });

  test('--limits-only looks at no limits file of the trial, be it gone', () => {
    const files = { 'arc/a.yaml': FILES['arc/a.yaml'], 'new.yaml': FILES['new.yaml'] };
    expect(run(['verdict', 'arc', '-q'], files).code).toBe(3);
    expect(run(['verdict', 'arc', '-q', '--limits-only', 'new.yaml'], files).code).toBe(1);
  });

  test('another effect, or another rule, is a difference too', () => {
    const files = {
      ...FILES,
      'advice.yaml': 'waste_per_thousand: {max: 25 g, effect: advises}\npages: {min: 1}\n',
      'guard.yaml': 'decision: {rule: guarded, factor: 400}\n',
    };
    expect(json(files, '--limits', 'advice.yaml')[1]).toMatchObject({ before: 'fail', after: 'pass' });
    expect(json(files, '--limits', 'guard.yaml')[0]).toMatchObject({
      before: 'pass',
      after: 'inconclusive',
      limits: [{ before: { outcome: 'met' }, after: { outcome: 'open' } }],
    });
  });

  test('what is no trial is told and gives 3, and the others are compared', () => {
    const { code, out, err } = run(['compare', 'arc', '--limits', 'new.yaml', '--format', 'jsonl'], {
      ...FILES,
      'arc/d.yaml': 'trial: no meter\n',
    });
    expect(code).toBe(3);
    expect(err).toContain('arc/d.yaml');
    const lines = out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as CompareJson);
    expect(lines.map(({ after }) => after)).toEqual(['fail', 'fail', 'pass', 'invalid']);
    expect(lines.at(-1)?.errors).not.toEqual([]);
  });

  test('wrong usage', () => {
    expect(run(['compare', 'arc'], FILES).code).toBe(4);
    expect(run(['compare', '--limits', 'office'], FILES).code).toBe(4);
    expect(run(['compare', 'arc', '--limits', 'none-such'], FILES).code).toBe(4);
    expect(run(['compare', 'arc', '--limits', 'office', '--limits-only', 'office'], FILES).code).toBe(4);
    expect(run(['compare', 'arc', '--limits', 'gone.yaml'], FILES).code).toBe(3);
    expect(run(['compare', 'arc/old.yaml', '--limits', 'office'], FILES).code).toBe(3);
  });
});
