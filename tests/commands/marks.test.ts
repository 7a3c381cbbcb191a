import { describe, expect, test } from 'vitest';
import { marksOn } from '../../src/figures/repeating-marks.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { run } from '../run.ts';

/*
 * marks: a flaw on a rotating part comes back once a turn, every π × diameter down the page (geometry); a
 * distance read over several marks is a multiple of it. The tolerance is common practice, no source.
 * Circumferences are worked beside each test with π = 3.14159265; machines and parts are invented.
 */

interface MarksJson {
  readonly tolerance: string;
  readonly marks: readonly {
    readonly distance: string;
    readonly parts: readonly {
      readonly part: string;
      readonly turns: number;
      readonly expected: string;
      readonly apart: string;
    }[];
  }[];
}

const traced = (...argv: readonly string[]): MarksJson => {
  const { code, out, err } = run(['marks', '--format', 'json', ...argv]);
  expect(err).toBe('');
  expect(code).toBe(0);
  return JSON.parse(out) as MarksJson;
};

/** Part and turns of the parts a mark can come from. */
const parts = (...argv: readonly string[]): [string, number][] =>
  (traced(...argv).marks[0]?.parts ?? []).map(({ part, turns }) => [part, turns]);

const MACHINE = ['--part', 'drum=30', '--part', 'charge roller=12', '--part', 'fuser=37.5'] as const;

describe('which part', () => {
  test('94.3 mm is the drum: π × 30 = 94.2477796 mm, 0.0522 mm apart', () => {
    const { tolerance, marks } = traced('--distance', '94.3', ...MACHINE);
    expect(tolerance).toBe('2');
    expect(marks).toHaveLength(1);
    expect(marks[0]?.distance).toBe('94.3');
    expect(marks[0]?.parts).toHaveLength(1);
    const [drum] = marks[0]?.parts ?? [];
    expect(drum).toMatchObject({ part: 'drum', turns: 1 });
    expect(Number(drum?.expected)).toBeCloseTo(94.24777960769379, 9);
    expect(Number(drum?.apart)).toBeCloseTo(94.3 - 94.24777960769379, 9);
  });

  test('a distance over several marks: 3 × π × 12 = 113.097 mm', () => {
    expect(parts('--distance', '113.1', ...MACHINE)).toContainEqual(['charge roller', 3]);
    expect(parts('--distance', '75.4', ...MACHINE)).toEqual([['charge roller', 2]]);
  });

  test('two parts that fit are both named, the one of a single turn first', () => {
    // π × 24 = 75.398 mm, which is 2 × π × 12.
    expect(parts('--distance', '75.4', '--part', 'small=12', '--part', 'large=24')).toEqual([
      ['large', 1],
      ['small', 2],
    ]);
  });

  test('of two with as many turns the nearer comes first', () => {
    // π × 30 = 94.248 and π × 30.2 = 94.876; 94.8 is 0.08 from the second.
    expect(parts('--distance', '94.8', '--part', 'one=30', '--part', 'other=30.2')).toEqual([
      ['other', 1],
      ['one', 1],
    ]);
  });

  test('none: 55 mm is no multiple of 37.699, 94.248 or 117.81', () => {
    expect(parts('--distance', '55', ...MACHINE)).toEqual([]);
  });

  test('a circumference is not its diameter, nor half of it', () => {
    expect(parts('--distance', '30', '--part', 'drum=30')).toEqual([]);
    expect(parts('--distance', '47.1', '--part', 'drum=30')).toEqual([]);
  });

  test('units: 3.71 in is 94.234 mm, 3 cm a diameter of 30 mm', () => {
    expect(parts('--distance', '3.71 in', '--part', 'drum=3 cm')).toEqual([['drum', 1]]);
  });

  test('several distances, each on its own, in the order given', () => {
    const { marks } = traced('--distance', '37.7', '--distance', '94.3', ...MACHINE);
    expect(marks.map(({ distance, parts: found }) => [distance, found[0]?.part])).toEqual([
      ['37.7', 'charge roller'],
      ['94.3', 'drum'],
    ]);
  });

  test('a part’s name may hold the sign itself', () => {
    expect(parts('--distance', '94.3', '--part', 'roller=upper=30')).toEqual([['roller=upper', 1]]);
  });
});

describe('tolerance, in percent of the distance', () => {
  // 96 mm is 1.7522 mm from π × 30; 2 % of it are 1.92, 1.8 % are 1.728.
  test('2 % unless given', () => {
    expect(parts('--distance', '96', '--part', 'drum=30')).toEqual([['drum', 1]]);
    // 97 mm is 2.7522 mm off, 2 % of it 1.94.
    expect(parts('--distance', '97', '--part', 'drum=30')).toEqual([]);
  });

  test('narrower and wider', () => {
    expect(parts('--distance', '96', '--part', 'drum=30', '--tolerance', '1.8')).toEqual([]);
    expect(parts('--distance', '96', '--part', 'drum=30', '--tolerance', '1.9 %')).toEqual([['drum', 1]]);
    expect(parts('--distance', '97', '--part', 'drum=30', '--tolerance', '3')).toEqual([['drum', 1]]);
    expect(traced('--distance', '97', '--part', 'drum=30', '--tolerance', '3').tolerance).toBe('3');
  });

  test('a circumference of 49 mm is 1 mm from 50 mm, which is 2 % of it', () => {
    const diameter = new Decimal(49).div('3.141592653589793238462643383279503');
    const found = marksOn(new Decimal(50), [{ part: 'roller', diameter }], new Decimal('2.0000001'));
    expect(found.map(({ turns }) => turns)).toEqual([1]);
    expect(marksOn(new Decimal(50), [{ part: 'roller', diameter }], new Decimal('1.9999999'))).toEqual([]);
  });
});

const TRIAL = `
trial: Foundry Lane lot 12, machine Slate
machine: {rotating_parts: {drum: 30 mm, charge roller: 1.2 cm, belt roller:}}
meter: {start: 100, end: 5100}
prints: {marks: [{distance: 94.3 mm, note: faint line}, {distance: 37.7 mm}]}
`;

describe('of a trial', () => {
  const marks = (...argv: readonly string[]): MarksJson => {
    const { code, out } = run(['marks', 'trial.yaml', '--format', 'json', ...argv], { 'trial.yaml': TRIAL });
    expect(code).toBe(0);
    return JSON.parse(out) as MarksJson;
  };

  test('its marks and its machine’s rotating parts', () => {
    expect(
      marks().marks.map(({ distance, parts: found }) => [distance, found.map(({ part }) => part)]),
    ).toEqual([
      ['94.3', ['drum']],
      ['37.7', ['charge roller']],
    ]);
  });

  test('with a distance and a part of the command line beside them', () => {
    const { marks: all } = marks('--distance', '62.8', '--part', 'feed roller=20');
    // π × 20 = 62.83.
    expect(all.map(({ distance }) => distance)).toEqual(['62.8', '94.3', '37.7']);
    expect(all[0]?.parts.map(({ part }) => part)).toEqual(['feed roller']);
  });

  test('from standard input', () => {
    const { code, out } = run(['marks', '-'], {}, TRIAL);
    expect(code).toBe(0);
    expect(out).toContain('A mark every 94.3 mm');
  });

  test('the verdict notes the same', () => {
    const { out } = run(['verdict', 'trial.yaml'], { 'trial.yaml': TRIAL });
    expect(out.replace(/\s+/g, ' ')).toContain('A mark repeats every 94.3 mm: once a turn of the drum.');
  });
});

describe('text', () => {
  test('a line for each part: turns, expected, apart', () => {
    const { code, out } = run(['marks', '--distance', '94.3', '--distance', '75', ...MACHINE]);
    expect(code).toBe(0);
    expect(out).toContain('A mark every 94.3 mm\n');
    expect(out).toMatch(/turns +expected +apart/);
    expect(out).toMatch(/drum +1 +94\.2 mm +\+0\.1 mm/);
    // 75 − 75.398 = −0.398.
    expect(out).toMatch(/charge roller +2 +75\.4 mm +-0\.4 mm/);
  });

  test('none within the tolerance is said', () => {
    const { code, out } = run(['marks', '--distance', '55', ...MACHINE, '--tolerance', '1.5']);
    expect(code).toBe(0);
    expect(out).toContain('No part has that circumference, or a multiple of it, within 1.5 %.');
  });

  test('at most 80 columns, and nothing of a name that a terminal would obey', () => {
    const { out } = run(['marks', '--distance', '94.3', '--part', `\u001b[31m${'drum '.repeat(30)}=30`]);
    expect(out).not.toContain('\u001b');
    expect(Math.max(...out.split('\n').map((line) => Array.from(line).length))).toBeLessThanOrEqual(80);
  });
});

describe('exit codes', () => {
  test.each([
    ['nothing', []],
    ['no distance', ['--part', 'drum=30']],
    ['no part', ['--distance', '94.3']],
    ['a distance of zero', ['--distance', '0', '--part', 'drum=30']],
    ['a distance below zero', ['--distance=-94.3', '--part', 'drum=30']],
    ['a distance that is none', ['--distance', 'far', '--part', 'drum=30']],
    ['a distance with a comma', ['--distance', '94,3', '--part', 'drum=30']],
    ['a distance in grams', ['--distance', '94.3 g', '--part', 'drum=30']],
    ['a part without a diameter', ['--distance', '94.3', '--part', 'drum']],
    ['a part with an empty one', ['--distance', '94.3', '--part', 'drum=']],
    ['a part of no diameter', ['--distance', '94.3', '--part', 'drum=0']],
    ['a tolerance of zero', ['--distance', '94.3', '--part', 'drum=30', '--tolerance', '0']],
    ['a tolerance above 100 %', ['--distance', '94.3', '--part', 'drum=30', '--tolerance', '101']],
    ['a tolerance that is none', ['--distance', '94.3', '--part', 'drum=30', '--tolerance', 'some']],
    ['an unknown format', ['--distance', '94.3', '--part', 'drum=30', '--format', 'csv']],
    ['an unknown option', ['--distance', '94.3', '--part', 'drum=30', '--width', '3']],
  ])('4: %s', (_, argv) => {
    const { code, out, err } = run(['marks', ...argv]);
    expect(code).toBe(4);
    expect(out).toBe('');
    expect(err).not.toBe('');
    expect(err).not.toMatch(/^ {4}at /m);
  });

  test('a bad option is named', () => {
    expect(run(['marks', '--distance', '94,3', '--part', 'drum=30']).err).toContain('--distance');
    expect(run(['marks', '--distance', '94.3', '--part', 'drum']).err).toContain('--part');
    expect(run(['marks', '--distance', '94.3', '--part', 'drum=30', '--tolerance', '0']).err).toContain(
      '--tolerance',
    );
  });

  test('4: a trial without marks, or without rotating parts, and nothing given', () => {
    const bare = 'trial: Foundry Lane lot 12\nmeter: {start: 100, end: 5100}\n';
    const { code, err } = run(['marks', 'trial.yaml'], { 'trial.yaml': bare });
    expect(code).toBe(4);
    expect(err).toContain('--distance');
    expect(run(['marks', 'trial.yaml', '--distance', '94.3'], { 'trial.yaml': bare }).err).toContain(
      '--part',
    );
  });

  test('0: marks of a trial without rotating parts are shown with their distance', () => {
    const trial = `trial: Foundry Lane lot 12
meter: {start: 100, end: 5100}
prints: {marks: [{distance: 94.3 mm, slot: black, note: light spot}]}
`;
    const { code, out } = run(['marks', 'trial.yaml'], { 'trial.yaml': trial });
    expect(code).toBe(0);
    expect(out).toContain('A mark every 94.3 mm, black: light spot\n');
    expect(out).toContain('No rotating part is known');
    const json = run(['marks', 'trial.yaml', '--format', 'json'], { 'trial.yaml': trial }).out;
    expect((JSON.parse(json) as { marks: unknown }).marks).toEqual([
      { distance: '94.3', slot: 'black', note: 'light spot', parts: [] },
    ]);
  });

  test('3: a file that is no trial, or is not there', () => {
    const { code, out, err } = run(['marks', 'trial.yaml'], {
      'trial.yaml': `${TRIAL}colour: blue\n`,
    });
    expect(code).toBe(3);
    expect(out).toBe('');
    expect(err).toMatch(/^trial\.yaml:\d+:\d+: /);
    expect(run(['marks', 'missing.yaml']).code).toBe(3);
  });
});
