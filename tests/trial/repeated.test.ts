import { describe, expect, test } from 'vitest';
import { studentQuantile } from '../../src/statistics/student.ts';
import { Random } from '../fuzz/random.ts';
import { figure, judge, run } from '../run.ts';
import { heldTrue, SETTINGS } from './weighings-level.ts';

/*
 * Several weighings of one thing. The uncertainty is worked by hand beside each test, with Student's t for 95.45 % to
 * two decimals as JCGM 100:2008, table G.2, gives it (from memory; computed again with scipy: 13.97, 4.53, 3.31 and
 * 2.87 for 1 to 4 degrees of freedom). The trials are invented.
 */

const trial = (tare: string, final: string, more = ''): string => `trial: Tern Street lot 31
meter: {start: 1000, end: 5000}
coverage: 5 %
waste_container: {tare: ${tare}, final: ${final}}
${more}
limits: {waste_per_thousand: {max: 25 g}}
`;
const u = (text: string): number => Number(figure(text, 'waste_mass')?.u);
const codes = (text: string): string[] => judge(text).notes.map(({ code }) => code);

describe('the mean of several weighings', () => {
  test('is the reading, exactly: three thirds of a gram make one', () => {
    const text = trial('[640 g, 640 g, 641 g]', '[700 g, 700 g, 701 g]');
    expect(figure(text, 'waste_mass')?.value).toBe('60');
  });

  test('meets a limit it is exactly at, though its own digits never end', () => {
    // 60⅓ g over 4,000 pages is 15 1/12 g for a thousand; the reference has a third of that in 4,000: a ratio of 3.
    const own = trial('640 g', '[700 g, 700 g, 701 g]').replace(/limits:.*\n/, '');
    const theirs =
      'reference: {meter: {start: 10000, end: 14000}, waste_container: {tare: 600, final: FINAL}}\n';
    // 20 1/9 g has nine weighings: eight of 620 and one of 621.
    const nine = `[${[...Array.from({ length: 8 }, () => '620 g'), '621 g'].join(', ')}]`;
    const limits = 'limits: {decision: {rule: simple}, waste_ratio: {max: 3}}\n';
    const { limits: judged } = judge(`${own}${theirs.replace('FINAL', nine)}${limits}`);
    expect(judged[0]).toMatchObject({ outcome: 'met', margin: '0' });
  });

  test('of one value is that value', () => {
    expect(u(trial('640 g', '[700 g]'))).toBeCloseTo(Math.sqrt(2 / 12), 12);
  });

  test.each([
    // s of 0 and 1 is √½, s/√2 one half.
    [2, '[700, 701]', 0.5, 13.97],
    // s of 0, 0, 1 is √⅓, s/√3 one third.
    [3, '[700, 700, 701]', 1 / 3, 4.53],
    // s of 0, 0, 0, 2 is 1, s/√4 one half.
    [4, '[700, 700, 700, 702]', 1 / 2, 3.31],
    // s² of 0, 1, 2, 3, 4 is 10/4, s/√5 is √½.
    [5, '[700, 701, 702, 703, 704]', Math.SQRT1_2, 2.87],
  ])('has s/√n, widened by Student’s t, beside the last digit: %i weighings', (_, final, mean, t) => {
    const expected = Math.sqrt(2 / 12 + ((mean * t) / 2) ** 2);
    expect(Math.abs(u(trial('640', final)) / expected - 1)).toBeLessThan(0.002);
  });

  test('has the coarsest last digit of its weighings, and that of the scale where it is given', () => {
    const spread = 4.53 / 2 / 3;
    const scatter = (tenths: number): number => (tenths * spread) / 10;
    expect(u(trial('640.0', '[700.0, 700.0, 700.1]'))).toBeCloseTo(
      Math.sqrt((2 * 0.1 ** 2) / 12 + scatter(1) ** 2),
      3,
    );
    const coarse = Math.sqrt((1 + 0.1 ** 2) / 12 + (4.53 / 2) ** 2 / 48 / 3);
    expect(u(trial('640.0', '[700, 700.0, 700.1]'))).toBeCloseTo(coarse, 3);
    const half = 'instruments: {scale: {resolution: 0.5 g}}';
    expect(u(trial('640', '[700, 700, 701]', half))).toBeCloseTo(Math.sqrt((2 * 0.25) / 12 + spread ** 2), 2);
  });

  test('has the scale’s error once, undivided; as one for all weighings it cancels', () => {
    const spread = (4.53 / 2 / 3) ** 2;
    const scale = (more: string): string =>
      trial('640', '[700, 700, 701]', `instruments: {scale: {max_error: 2 g${more}}}`);
    expect(u(scale(''))).toBeCloseTo(Math.sqrt(2 / 12 + 8 / 3 + spread), 2);
    expect(u(scale(', shared_error: true'))).toBeCloseTo(Math.sqrt(2 / 12 + spread), 2);
  });

  test('of equal weighings has the scatter that rounding can hide: r/√48', () => {
    const hidden = (13.97 / 2 / Math.SQRT2) ** 2 / 48;
    expect(u(trial('640', '[700, 700]'))).toBeCloseTo(Math.sqrt(2 / 12 + hidden), 3);
  });

  test.each(Array.from({ length: 19 }, (_, index) => index + 2))(
    'the factor is half of Student’s t at the probability of ± 2 of a normal: %i weighings',
    (n) => {
      // Weighings of 0, …, 0 and n: s/√n is 1 for every n. Φ(2), from memory.
      const final = `[${[...Array.from({ length: n - 1 }, () => '700.000000'), `${700 + n}.000000`].join(', ')}]`;
      const half = studentQuantile(0.977249868, n - 1) / 2;
      expect(u(trial('640.000000', final)) / half).toBeCloseTo(1, 5);
    },
  );
});

test.each(SETTINGS.filter(({ n, sd }) => n <= 5 && sd <= 5))(
  '± 2u holds the true mass: $n weighings, standard deviation $sd g, error $error g',
  (setting) => {
    // A short round of `npm run weighings`; 1,000 sets at 95 % have a standard deviation of 0.7 %.
    expect(heldTrue(1000, new Random(11), setting)).toBeGreaterThan(0.93);
  },
);

test('± 2u is no wider than it has to be where nothing but scatter counts', () => {
  for (const n of [2, 3, 5, 10])
    expect(heldTrue(1000, new Random(12), { n, sd: 20, error: 0 })).toBeLessThan(0.975);
});

describe('a list of weighings in the file', () => {
  test.each([
    ['no value', '[]'],
    ['more than twenty', `[${Array.from({ length: 21 }, () => '700 g').join(', ')}]`],
  ])('of %s is refused, with how many it takes', (_, final) => {
    const { code, out } = run(['verdict', '-'], {}, trial('640 g', final));
    expect(code).toBe(3);
    expect(out).toContain('it takes 1 to 20.');
  });

  test.each([
    ['another unit', '[700 g, 701 mm]', 'unknown-unit'],
    ['nothing', '[700 g, ~]', 'wrong-shape'],
    ['a list', '[700 g, [701 g]]', 'wrong-shape'],
    ['a mass below nothing', '[700 g, -701 g]', 'too-low'],
  ])('with %s is refused at its place', (_, final, code) => {
    const { notes } = judge(trial('640 g', final));
    expect(notes).toContainEqual(expect.objectContaining({ code, kind: 'error', line: 4 }));
  });

  test('with a decimal comma falls into more values, far from each other', () => {
    const { notes } = judge(trial('100 g', '[700,5 g, 700 g]'));
    expect(notes).toContainEqual(expect.objectContaining({ code: 'weighings-apart', line: 4 }));
  });

  test('may be taken of every mass of a container or cartridge', () => {
    const more = `batches: [{end: 3000, container_mass: [670 g, 671 g]}]
cartridges: [{slot: black, start_mass: [900 g, 900 g], end_mass: [700 g, 701 g], fill_mass: 250 g, residual_mass: [20 g, 21 g]}]`;
    const text = trial('[640 g, 641 g]', '[700 g, 701 g]', more);
    expect(judge(text).verdict).toBe('pass');
    expect(figure(text, 'toner_used', 'black')?.value).toBe('199.5');
  });

  test('stands against the other masses as its mean does', () => {
    expect(codes(trial('[640 g, 642 g]', '[639 g, 641 g]'))).toContain('final-below-tare');
    const { notes } = judge(trial('[640 g, 642 g]', '[639 g, 641 g, 642 g]'));
    expect(notes[0]?.message).toContain('640.66667 g (mean of 3)');
  });

  test('is told in the budget of a figure, its scatter by itself', () => {
    const files = { 'trial.yaml': trial('640 g', '[700 g, 700 g, 701 g]') };
    expect(run(['explain', 'waste_mass', 'trial.yaml'], files).out).toContain(
      'waste_container.final (scatter of 3)',
    );
    const { out } = run(['explain', 'waste_mass', 'trial.yaml', '--format', 'json'], files);
    const { values } = JSON.parse(out) as {
      values: { budget: { input: string; scatter_of: number | null }[] }[];
    };
    expect(values[0]?.budget.map(({ input, scatter_of }) => [input, scatter_of])).toEqual([
      ['waste_container.final', 3],
      ['waste_container.final', null],
      ['waste_container.tare', null],
    ]);
  });

  test('is said where a key is explained', () => {
    const { out } = run(['explain', 'cartridges.end_mass']);
    expect(out).toContain('or a list of such');
    expect(out).toContain('end_mass: 948 g');
  });
});

describe('a weighing far from the others', () => {
  const BEYOND = '[700 g, 711 g, 700 g]';

  test('puts the reading in doubt, and leaves its limits open', () => {
    const { verdict, notes, limits, caveats } = judge(trial('640 g', BEYOND));
    expect(verdict).toBe('inconclusive');
    expect(limits[0]).toMatchObject({ outcome: 'open' });
    expect(notes).toContainEqual(
      expect.objectContaining({ code: 'weighings-apart', kind: 'warning', line: 4, column: 47 }),
    );
    expect(caveats[0]?.message).toContain('waste_container.final[2]');
  });

  test('looked at again is decided on', () => {
    const checked = 'checked: [{reading: "waste_container.final[2]", note: read twice}]';
    expect(judge(trial('640 g', BEYOND, checked)).limits[0]).toMatchObject({ outcome: 'met' });
    const other = 'checked: [{reading: "waste_container.final[4]", note: read twice}]';
    expect(codes(trial('640 g', BEYOND, other))).toContain('checked-unknown');
  });

  test.each([
    ['ten grams apart', '[700 g, 710 g, 700 g]', ''],
    ['ten steps of a coarse scale apart', '[700 g, 720 g]', 'instruments: {scale: {resolution: 2 g}}'],
    ['two weighings that agree', '[700 g, 701 g]', ''],
  ])('%s is not far', (_, final, more) => {
    expect(codes(trial('640 g', final, more))).not.toContain('weighings-apart');
  });

  test.each([
    ['two that differ: both', '[700 g, 711 g]', '', ['[1]', '[2]']],
    ['more than ten steps', '[700 g, 721 g, 700 g]', 'instruments: {scale: {resolution: 2 g}}', ['[2]']],
    ['the only one left of the middle', '[700 g, 701 g, 801 g]', '', ['[3]']],
    ['one of an even number', '[700 g, 801 g, 702 g, 701 g]', '', ['[2]']],
  ])('%s', (_, final, more, places) => {
    const { caveats } = judge(trial('640 g', final, more));
    const named = places.map((place) => `waste_container.final${place}`).join(', ');
    expect(caveats.map(({ message }) => message)).toContainEqual(expect.stringContaining(`${named};`));
  });

  test('is found in every mass', () => {
    const more = `batches: [{end: 3000, container_mass: [690 g, 790 g]}]
cartridges: [{slot: black, start_mass: [900 g, 1 kg], end_mass: [700 g, 800 g], fill_mass: 250 g, residual_mass: [22 g, 122 g]}]`;
    const found = codes(trial('[640 g, 740 g]', '[700 g, 800 g]', more));
    expect(found.filter((code) => code === 'weighings-apart')).toHaveLength(6);
  });
});

describe('a note', () => {
  const files = { 'trial.yaml': trial('640 g', '[700 g, 791 g, 700 g]') };
  const correct = (...argv: string[]) => run(['note', 'trial.yaml', ...argv], files);

  test('puts one weighing of several right, the old one kept', () => {
    const { code, written } = correct('--reading', 'waste_container.final[2]=701', '--correct');
    expect(code).toBe(0);
    expect(written['trial.yaml']).toContain('final: [700 g, 701 g, 700 g]} # final[2] was 791 g\n');
  });

  test('puts another reading in the place of all of them', () => {
    const { code, written } = correct('--end', '--final', '701', '--correct');
    expect(code).toBe(0);
    expect(written['trial.yaml']).toContain('final: 701 g} # final was [700 g, 791 g, 700 g]\n');
  });

  test('does so only where it is asked to', () => {
    for (const reading of ['waste_container.final[2]=701', 'waste_container.final=701']) {
      const { code, err, written } = correct('--reading', reading);
      expect([code, written]).toEqual([3, {}]);
      expect(err).toContain('--correct');
    }
  });

  test('finds no place for a weighing that is not there', () => {
    const { code, written } = correct('--reading', 'waste_container.final[4]=701', '--correct');
    expect([code, written]).toEqual([3, {}]);
  });
});

test('a seal keeps every weighing, and a re-check names the one that is another now', () => {
  const text = trial('640 g', '[700 g, 700 g, 701 g]');
  const sealed = run(['seal', 'trial.yaml'], { 'trial.yaml': text }).written;
  expect(run(['recheck', 'trial.yaml'], { 'trial.yaml': text, ...sealed }).code).toBe(0);
  const { code, out } = run(['recheck', 'trial.yaml'], {
    'trial.yaml': text.replace('701 g', '702 g'),
    ...sealed,
  });
  expect(code).toBe(1);
  expect(out).toContain('waste_container.final[3] was "701 g" and is now "702 g".');
});
