import { describe, expect, test } from 'vitest';
import { run } from '../run.ts';

const TRIAL = `trial: Ferry Steps lot 3
meter: {start: 1000, end: 13000}
waste_container: {tare: 640 g, final: 880 g}
cartridges: [{slot: black}, {slot: cyan}]
stated: {waste_mass: 420 g}
limits: {waste_per_thousand: {max: 25 g}}
`;

describe('--allow-empty, for hooks', () => {
  test.each(['verdict', 'recheck'])('%s of an empty list is an error only without it', (command) => {
    expect(run([command, '--files-from', '-', '-q'], {}, '').code).toBe(3);
    expect(run([command, '--files-from', '-', '-q', '--allow-empty'], {}, '')).toMatchObject({
      code: 0,
      out: '',
      err: '',
    });
    const json = run([command, '--files-from', '-', '--format', 'json', '--allow-empty'], {}, '');
    expect([json.code, json.out]).toEqual([0, '[]\n']);
  });

  test.each([
    ['seal', []],
    ['compare', ['--limits', 'office']],
  ])('%s of an empty list too', (command, more) => {
    const argv = [command, '--files-from', '-', ...more];
    expect(run(argv, {}, '').code).toBe(3);
    expect(run([...argv, '--allow-empty'], {}, '')).toMatchObject({ code: 0, out: '', err: '' });
  });

  test('a folder of limits alone, and a file that is not there all the same', () => {
    const files = { 'a/house.yaml': 'pages: {min: 1}\n' };
    expect(run(['verdict', 'a', '--allow-empty'], files).code).toBe(0);
    expect(run(['verdict', 'gone.yaml', '--allow-empty'], files).code).toBe(3);
  });
});

describe('a column whose part no trial has', () => {
  const columns = (names: string) =>
    run(['verdict', 'a.yaml', '--format', 'csv', '--columns', names], { 'a.yaml': TRIAL });

  test('is said, and changes neither table nor exit code', () => {
    const { code, out, err } = columns('file,yield:blck');
    expect([code, out]).toEqual([0, 'file,yield:blck\r\na.yaml,\r\n']);
    expect(err).toBe('tallytare: the column yield:blck is empty: no trial has this part\n');
  });

  test('a part that is there, a stat and a total are not', () => {
    expect(columns('file,yield:black,temperature:least,toner_used:total').err).toBe('');
  });
});

test('junit shows warnings of a trial that passes', () => {
  const { code, out } = run(['verdict', 'a.yaml', '--format', 'junit'], { 'a.yaml': TRIAL });
  expect(code).toBe(0);
  expect(out).toMatch(/<system-out>[^]*a\.yaml:5:\d+: warning/);
});
