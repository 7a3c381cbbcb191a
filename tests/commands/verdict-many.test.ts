import { describe, expect, test } from 'vitest';
import { type Files, type ResultJson, run } from '../run.ts';

const trial = (title: string, final: number, more = ''): string =>
  [
    `trial: ${title}`,
    'meter: {start: 1000, end: 13000}',
    'coverage: 5 %',
    `waste_container: {tare: 640 g, final: ${final} g}`,
    'limits: {waste_per_thousand: {max: 25 g}}',
    more,
    '',
  ].join('\n');

/** 240 g are 20 g for a thousand of 12 000 pages, 360 g are 30 g, against at most 25 g. */
const files: Files = {
  't/a.yaml': trial('Ferry Lane lot 1', 880),
  't/b/c.yml': trial('Ferry Lane lot 2', 1000),
  't/b.yaml': 'trial: Ferry Lane lot 3\nmeter: {start: 1000}\n',
  't/d.yaml': 'trial: no meter\n',
  't/limits/house.yaml': 'waste_per_thousand: {max: 25 g}\n',
  't/a.yaml.seal.json': '{}',
  't/.hidden.yaml': trial('hidden', 880),
  't/.git/config.yaml': trial('hidden', 880),
  't/node_modules/x/y.yaml': trial('hidden', 880),
  't/photo.jpg': '',
};

const quiet = (...argv: string[]) => run(['verdict', '--quiet', ...argv], files);

describe('what is judged', () => {
  test('of a folder its trials in the order of their paths, without limits, seals and hidden files', () => {
    // In order of code units: "t/b.yaml" before "t/b/c.yml", since "." is U+002E and "/" U+002F.
    const { out, code } = quiet('t');
    expect(out.split('\n')).toEqual([
      'pass\tt/a.yaml',
      'inconclusive\tt/b.yaml',
      'fail\tt/b/c.yml',
      'invalid\tt/d.yaml',
      '',
    ]);
    expect(code).toBe(3);
  });

  test('limits that are named are no trial', () => {
    expect(quiet('t/limits/house.yaml').code).toBe(3);
  });

  test('a folder without a trial is said, and is no pass', () => {
    const { out, err, code } = run(['verdict', '-q', 'z', 't/a.yaml'], { ...files, 'z/photo.jpg': '' });
    expect(out).toBe('invalid\tz\npass\tt/a.yaml\n');
    expect(err).toContain('holds no trial');
    expect(code).toBe(3);
    expect(run(['verdict', 't/limits'], files)).toMatchObject({ code: 3, out: '' });
  });

  test.each([
    ['t/*.yaml', ['a', 'b', 'd'].map((name) => `t/${name}.yaml`)],
    ['t/[ab].yaml', ['t/a.yaml', 't/b.yaml']],
    ['t/**/*.yml', ['t/b/c.yml']],
    ['t/{a,d}.yaml', ['t/a.yaml', 't/d.yaml']],
    ['t/?', ['t/b/c.yml']],
    ['*/b/*', ['t/b/c.yml']],
  ])('the pattern %s, which the shell left', (pattern, expected) => {
    expect(
      quiet(pattern)
        .out.trimEnd()
        .split('\n')
        .map((line) => line.split('\t')[1]),
    ).toEqual(expected);
  });

  test('a pattern that nothing fits is said', () => {
    const { err, code } = quiet('t/x*.yaml');
    expect(err).toContain('t/x*.yaml: error: No trial file fits this pattern.');
    expect(code).toBe(3);
  });

  test('a file with wildcards in its name is meant itself', () => {
    const odd = { 't/[ab].yaml': trial('odd', 880), ...files };
    expect(run(['verdict', '-q', 't/[ab].yaml'], odd).out).toBe('pass\tt/[ab].yaml\n');
  });

  test.each([
    ['lines', 't/a.yaml\nt/b\n'],
    ['lines of another system', 't/a.yaml\r\n\r\nt/b\r\n'],
    ['lines, the last not ended', 't/a.yaml\nt/b'],
    ['NUL', 't/a.yaml\0t/b\0'],
    ['NUL, the last not ended', 't/a.yaml\0t/b'],
  ])('a list by %s', (_, list) => {
    const expected = 'pass\tt/a.yaml\nfail\tt/b/c.yml\n';
    expect(run(['verdict', '-q', '--files-from', '-'], files, list).out).toBe(expected);
    expect(run(['verdict', '-q', '--files-from', 'list'], { ...files, list }).out).toBe(expected);
  });

  test('in a list by NUL a name may hold a line break', () => {
    const name = 'odd\nname.yaml';
    const { out } = run(['verdict', '-q', '--files-from', '-'], { [name]: trial('odd', 880) }, `${name}\0`);
    expect(out).toBe('pass\todd name.yaml\n');
  });

  test('an empty list is no pass, nor is one that is not there', () => {
    expect(run(['verdict', '-q', '--files-from', '-'], files, '\n')).toMatchObject({
      code: 3,
      out: 'invalid\t-\n',
    });
    expect(run(['verdict', '-q', '--files-from', 'nowhere'], files).code).toBe(3);
  });

  test('standard input is one thing only, and something must be given', () => {
    expect(run(['verdict', '-', '--files-from', '-'], files, '').code).toBe(4);
    expect(run(['verdict'], files).code).toBe(4);
  });
});

describe('what is printed', () => {
  test('--only some; the exit code is of all', () => {
    expect(quiet('t', '--only', 'fail')).toMatchObject({ code: 3, out: 'fail\tt/b/c.yml\n' });
    const two = quiet('t', '--only', 'fail', '--only', 'pass');
    expect(two.out).toBe('pass\tt/a.yaml\nfail\tt/b/c.yml\n');
    expect(quiet('t', '--only', 'maybe').code).toBe(4);
    const array = run(['verdict', 't', '--only', 'pass', '--format', 'json'], files).out;
    expect((JSON.parse(array) as ResultJson[]).map(({ trial: title }) => title)).toEqual([
      'Ferry Lane lot 1',
    ]);
  });

  test('--fail-fast stops at the first that fails or cannot be read', () => {
    const { out, err, code } = quiet('t', '--fail-fast');
    expect(out.split('\n')).toEqual(['pass\tt/a.yaml', 'inconclusive\tt/b.yaml', 'fail\tt/b/c.yml', '']);
    expect(err).toContain('stopped at t/b/c.yml');
    expect(code).toBe(1);
    const stopped = run(['verdict', 't/d.yaml', 't/a.yaml', '--fail-fast', '--format', 'json'], files);
    expect((JSON.parse(stopped.out) as unknown[]).length).toBe(1);
  });

  test('json of one path is an object; of a folder, a pattern or a list an array, be it of one', () => {
    const shape = (...argv: string[]): unknown =>
      JSON.parse(run(['verdict', ...argv, '--format', 'json'], files, 't/a.yaml').out);
    expect(shape('t/a.yaml')).toMatchObject({ verdict: 'pass' });
    const [one, two] = [{ verdict: 'pass' }, { verdict: 'fail' }];
    expect(shape('t/a.yaml', 't/b/c.yml')).toMatchObject([one, two]);
    expect(shape('t/b')).toMatchObject([two]);
    expect(shape('t/b/*')).toMatchObject([two]);
    expect(shape('--files-from', '-')).toMatchObject([one]);
  });

  test('an array is written as if it were written whole', () => {
    const { out } = run(['verdict', 't', '--format', 'json'], files);
    expect(out).toBe(`${JSON.stringify(JSON.parse(out), null, 2)}\n`);
    const none = run(['verdict', 't', '--only', 'pass', '--only', 'fail', '--format', 'json'], {
      't/b.yaml': files['t/b.yaml'] ?? '',
    });
    expect(none.out).toBe('[]\n');
  });

  test('--summary counts verdicts and names who came nearest to a limit', () => {
    const { out, code } = run(['verdict', 't', '--summary'], files);
    expect(code).toBe(3);
    // 25 − 30 g: the room of t/b/c.yml, u of it left out in the line.
    expect(out).toMatch(
      /^VERDICTS\n {2}pass +1\n {2}fail +1\n {2}inconclusive +1\n {2}invalid +1\n {2}in all +4\n\nLIMITS.*\n {2}waste per thousand pages, at most 25 g: 1 met, 1 missed\n {4}-5\.0+ g in t\/b\/c\.yml\n/,
    );
    const named = run(['verdict', 't', '--summary', '--only', 'fail'], files).out;
    expect(named.startsWith('fail\tt/b/c.yml\n\nVERDICTS\n')).toBe(true);
    expect(run(['verdict', 't', '--summary', '--quiet'], files).code).toBe(4);
  });
});

describe('csv', () => {
  const csv = (...argv: string[]) => run(['verdict', 't', '--format', 'csv', ...argv], files);

  test('a row for each trial, lines ending in CR LF, the same number of cells in each (RFC 4180, 2)', () => {
    const { out, err, code } = csv();
    expect(code).toBe(3);
    expect(err).toContain('t/d.yaml');
    const rows = out.split('\r\n');
    expect(out.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(rows.pop()).toBe('');
    expect(rows).toHaveLength(5);
    expect(new Set(rows.map((row) => row.split(',').length))).toEqual(new Set([21]));
    expect(rows[1]).toBe('t/a.yaml,Ferry Lane lot 1,pass,,,,0,12000,20,12000,at_least,,,,,,,,,,');
    expect(rows[4]).toBe('t/d.yaml,,invalid,,,,0,,,,,,,,,,,,,,');
  });

  test('chosen columns, each figure with what there is to say of it', () => {
    const names = [
      'verdict',
      ...['', '.unit', '.outcome', '.margin', '.max', '.min', '.bound'].map(
        (field) => `waste_per_thousand${field}`,
      ),
    ];
    const { out } = csv('--columns', names.slice(0, 4).join(','), '--columns', names.slice(4).join(','));
    expect(out.split('\r\n').slice(0, 4)).toEqual([
      names.join(','),
      'pass,20,g,met,5,25,,exact',
      'inconclusive,,g,,,,,',
      'fail,30,g,missed,-5,25,,exact',
    ]);
  });

  test('figures of parts and readings', () => {
    const more =
      'cartridges: [{slot: black, exhausted_at: 12000}, {slot: cyan}]\nambient: [{temperature: 22 °C, humidity: 45 %}, {temperature: 24 °C, humidity: 45 %}]';
    const columns =
      'yield:black,yield:cyan,yield:cyan.bound,yield:magenta,yield,temperature:greatest,temperature';
    const { out } = run(['verdict', 'x.yaml', '--format', 'csv', '--columns', columns], {
      'x.yaml': trial('x', 880, more),
    });
    expect(out.split('\r\n')[1]).toBe('11000,12000,at_least,,,24,23');
  });

  test('quotes where they are needed, and nothing a spreadsheet would run', () => {
    const titles = ['=1+1', '+1', '-1+1', '@x', 'a "b", c', '-12'];
    const own = Object.fromEntries(
      titles.map((title, index) => [`${index}.yaml`, trial(`"${title.replaceAll('"', '\\"')}"`, 880)]),
    );
    const { out } = run(['verdict', ...Object.keys(own), '--format', 'csv', '--columns', 'trial'], own);
    expect(out.split('\r\n')).toEqual(['trial', "'=1+1", "'+1", "'-1+1", "'@x", '"a ""b"", c"', '-12', '']);
  });

  test('a column that there is not', () => {
    const { code, err } = csv('--columns', 'waste_per_thousnd.u');
    expect(code).toBe(4);
    expect(err).toContain('did you mean "waste_per_thousand"?');
    expect(run(['verdict', 't', '--columns', 'file'], files).code).toBe(4);
  });
});
