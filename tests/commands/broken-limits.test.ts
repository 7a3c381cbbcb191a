import { describe, expect, test } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Files, type ResultJson, ROOT, run } from '../run.ts';

/* A limits file that cannot be read: every format is whole, and says where the fault is. */

const files: Files = {
  'a.yaml': 'trial: Ferry Lane lot 1\nmeter: {start: 1000, end: 13000}\ncoverage: 5 %\n',
  'b.yaml': 'trial: Ferry Lane lot 2\nmeter: {start: 1000, end: 13000}\ncoverage: 5 %\n',
  'house.yaml': 'yield: {min: 9000}\nwaste_per_thousnd: {max: 25 g}\n',
};

const judge = (format: string, ...more: string[]) =>
  run(['verdict', 'a.yaml', '--limits', 'house.yaml', '--format', format, ...more], files);

describe('verdict', () => {
  test.each(['text', 'json', 'jsonl', 'csv', 'junit'])('%s: code 3, file and line', (format) => {
    const { out, err, code } = judge(format);
    expect(code).toBe(3);
    expect(`${out}${err}`).toContain('house.yaml');
    expect(`${out}${err}`).toMatch(/house\.yaml:2:1|"line": ?2/);
    expect(`${out}${err}`).toContain('waste_per_thousand');
  });

  test('text ends as every verdict does', () => {
    expect(judge('text').out.trimEnd().split('\n').at(-1)).toMatch(/^VERDICT: INVALID/);
  });

  test('json: an object of one path, an array of several', () => {
    const one = JSON.parse(judge('json').out) as ResultJson;
    expect(one).toMatchObject({ file: 'house.yaml', verdict: 'invalid', trial: null });
    expect(one.notes[0]).toMatchObject({ kind: 'error', line: 2, column: 1 });
    expect(JSON.parse(judge('json', 'b.yaml').out)).toEqual([one]);
    expect(JSON.parse(judge('jsonl', 'b.yaml').out)).toEqual(one);
  });

  test('csv: its row; JUnit XML: an error, valid; a summary counts it', async () => {
    expect(judge('csv', '--columns', 'file,verdict,errors').out).toBe(
      'file,verdict,errors\r\nhouse.yaml,invalid,1\r\n',
    );
    const { out } = judge('junit');
    expect(out).toContain('errors="1"');
    const schema = readFileSync(join(ROOT, 'tests/output/junit.xsd'), 'utf8');
    const checked = await validateXML({ xml: { fileName: 'v.xml', contents: out }, schema });
    expect(checked.errors).toEqual([]);
    expect(JSON.parse(judge('json', '--summary').out)).toMatchObject({ verdicts: { invalid: 1 } });
  });

  test('--quiet', () => {
    expect(run(['verdict', 'a.yaml', '--limits', 'house.yaml', '--quiet'], files).out).toBe(
      'invalid\thouse.yaml\n',
    );
  });
});

test.each(['json', 'jsonl', 'csv'])('compare, %s', (format) => {
  for (const limits of [
    ['--limits', 'house.yaml'],
    ['--limits', 'office', '--against', 'house.yaml'],
  ]) {
    const { out, err, code } = run(['compare', 'a.yaml', ...limits, '--format', format], files);
    expect(code).toBe(3);
    expect(`${out}${err}`).toContain('house.yaml:2:1');
    if (format === 'csv') expect(out.split('\r\n')[1]).toMatch(/^house\.yaml,,invalid,invalid/);
    else expect(JSON.parse(out)).toMatchObject({ file: 'house.yaml', before: 'invalid', after: 'invalid' });
  }
});

describe('--summary --format json', () => {
  const own: Files = {
    'y/1.yaml': trial(1, 880),
    'y/2.yaml': trial(2, 1000),
    'y/3.yaml': 'no trial\n',
  };
  function trial(lot: number, final: number): string {
    return [
      `trial: Ferry Lane lot ${lot}`,
      'meter: {start: 1000, end: 13000}',
      'coverage: 5 %',
      `waste_container: {tare: 640 g, final: ${final} g}`,
      'limits: {waste_per_thousand: {max: 25 g}}',
      '',
    ].join('\n');
  }

  test('counts, and the least margin to each limit', () => {
    const { out, code } = run(['verdict', 'y', '--summary', '--format', 'json'], own);
    expect(code).toBe(3);
    // 360 g for 12 000 pages are 30 g, 5 more than 25 g.
    expect(JSON.parse(out)).toEqual({
      format: 1,
      tool: expect.stringMatching(/^tallytare /) as string,
      trials: 3,
      verdicts: { pass: 1, fail: 1, inconclusive: 0, invalid: 1 },
      limits: [
        {
          ...{ figure: 'waste_per_thousand', stat: null, min: null, max: '25', unit: 'g', effect: 'fails' },
          ...{ met: 1, missed: 1, open: 0, least_margin: '-5', file: 'y/2.yaml', of: null },
        },
      ],
      listed: null,
    });
  });

  test('with --only the trials of that verdict; no other format', () => {
    const { out } = run(['verdict', 'y', '--summary', '--format', 'json', '--only', 'fail'], own);
    expect((JSON.parse(out) as { listed: unknown }).listed).toEqual([{ file: 'y/2.yaml', verdict: 'fail' }]);
    for (const format of ['jsonl', 'csv', 'junit'])
      expect(run(['verdict', 'y', '--summary', '--format', format], own).code).toBe(4);
  });
});
