import { describe, expect, test } from 'vitest';
import { runReport } from '../report/run-report.ts';
import { type Files, judge, run } from '../run.ts';

/* Repeated trials of invented lots; what is expected is worked out by hand or with scipy, as said beside it. */

const trial = (machine: string, final: number, more = ''): string => `
trial: {title: Bell Yard lot 60, operator: ${final % 2 === 0 ? 'R. Okoye' : 'M. Adeyemi'}}
lot: {id: "60"}
machine: {label: ${machine}}
meter: {start: 1000, end: 12000}
waste_container: {tare: 640 g, final: ${final} g}
${more}`;

const LOT: Files = {
  'a.yaml': trial('Teal', 840),
  'b.yaml': trial('Teal', 862),
  'c.yaml': trial('Wren', 850),
  'd.yaml': trial('Wren', 830),
};

const precision = (files: Files, ...options: string[]) =>
  run(['precision', ...Object.keys(files), ...options], files);

interface Scatter {
  readonly sd: string | null;
  readonly degrees_of_freedom: number | string;
}
interface PrecisionJson {
  readonly format: number;
  readonly lot: string | null;
  readonly trials: number;
  readonly machines: number;
  readonly operators: number;
  readonly figures: readonly {
    readonly figure: string;
    readonly mean: string;
    readonly repeatability: Scatter;
    readonly between_machines: Scatter;
    readonly all: Scatter;
  }[];
}

const parsed = (files: Files): PrecisionJson =>
  JSON.parse(precision(files, '--format', 'json').out) as PrecisionJson;

describe('precision', () => {
  test('the scatter of trials in two machines, by analysis of variance', () => {
    // 18.1818, 20.1818; 19.0909, 17.2727 g a thousand: SS within 2²/2 + 1.8182²/2 = 3.6529, 2 degrees, s 1.3514;
    // between 1 × (19.1818 − 18.1818)² = 1, less than 1.8264: no scatter of machines is seen.
    const { figures, ...about } = parsed(LOT);
    expect(about).toMatchObject({ format: 1, lot: '60', trials: 4, machines: 2, operators: 1 });
    const waste = figures.find(({ figure }) => figure === 'waste_per_thousand');
    expect(Number(waste?.repeatability.sd)).toBeCloseTo(Math.sqrt((2 ** 2 / 2 + (20 / 11) ** 2 / 2) / 2), 9);
    expect(waste?.between_machines.sd).toBe('0');
    expect(figures.map(({ figure }) => figure)).not.toContain('pages');
  });

  test('two lots are refused: their scatter is not that of a trial', () => {
    const other = { ...LOT, 'e.yaml': trial('Wren', 850).replace('"60"', '"61"') };
    const { code, err, out } = precision(other);
    expect(code).toBe(3);
    expect(out).toBe('');
    expect(err).toContain('of lot 61');
  });

  test('a cartridge of another lot makes them two', () => {
    const other = { ...LOT, 'e.yaml': `${trial('Wren', 850)}cartridges: [{slot: black, lot: "61"}]\n` };
    expect(precision(other).code).toBe(3);
  });

  test('two coverages are refused: they do not repeat each other', () => {
    const other = {
      ...LOT,
      'e.yaml': trial('Wren', 850, 'coverage: 12 %\n'),
      'f.yaml': trial('Wren', 850, 'coverage: 5.0 %\n'),
    };
    const { code, err, out } = precision(other);
    expect([code, out]).toEqual([3, '']);
    expect(err).toContain('e.yaml was printed at 12 % coverage and f.yaml at 5 %');
  });

  test('another paper, or two-sided share, is said', () => {
    const said = 'Paper or two-sided share';
    expect(precision(LOT).out).not.toContain(said);
    expect(precision({ ...LOT, 'e.yaml': trial('Wren', 850, 'duplex_share: 40 %\n') }).out).toContain(said);
  });

  test('one trial repeats nothing, and nothing is written of it', () => {
    const one = { 'a.yaml': trial('Teal', 840) };
    expect(precision(one).out).toContain('No figure repeats');
    const { code, written } = precision(one, '--write', 'p.yaml');
    expect([code, written]).toEqual([3, {}]);
  });

  test('a trial is never written over', () => {
    expect(precision(LOT, '--write', 'a.yaml', '--force')).toMatchObject({ code: 4, written: {} });
  });

  test('CSV has a line for each figure', () => {
    const lines = precision(LOT, '--format', 'csv').out.trimEnd().split('\r\n');
    expect(lines[0]).toContain('repeatability_sd');
    expect(lines.slice(1).every((line) => line.startsWith('60,'))).toBe(true);
  });

  test('what it writes is named among limits, and is what decides', () => {
    const { written } = precision(LOT, '--write', 'p.yaml');
    const { out, code } = run(['verdict', 'a.yaml', '--limits', 'p.yaml', '--limits', 'w.yaml'], {
      ...LOT,
      ...written,
      'w.yaml': 'decision: {rule: guarded}\nwaste_per_thousand: {max: 20 g}\n',
    });
    expect(code).toBe(2);
    expect(out).toContain('if repeated, which decides');
  });

  test('a figure that no limit is on is shown with it too', () => {
    const { written } = precision(LOT, '--write', 'p.yaml');
    const { out } = run(['verdict', 'a.yaml', '--limits', 'p.yaml'], { ...LOT, ...written });
    expect(out.replaceAll(/\s+/g, ' ')).toMatch(/If repeated: waste per thousand pages ± [\d.]+ g\./);
  });

  test('the report shows it where it shows the limit, and says what the readings alone have', () => {
    const { written } = precision(LOT, '--write', 'p.yaml');
    const files = {
      ...LOT,
      ...written,
      'w.yaml': 'decision: {rule: guarded}\nwaste_per_thousand: {max: 20 g}\n',
    };
    const args = ['a.yaml', '--limits', 'p.yaml', '--limits', 'w.yaml', '--format', 'md'];
    const page = runReport([...args, '--output', '-'], files).out;
    const [, U] = /Waste per thousand pages: [\d.]+\s±\s([\d.]+)\sg/.exec(page) ?? [];
    const [, own] = /the readings alone have\s±\s([\d.]+)/.exec(page) ?? [];
    expect(Number(U)).toBeGreaterThan(5 * Number(own));
    expect(page).toContain('More trials of this lot: one alone does not tell.');
  });
});

describe('decision.precision', () => {
  const decided = (sd: string, rule: string, max: string) =>
    judge(
      trial(
        'Teal',
        844,
        `limits: {decision: {rule: ${rule}, precision: {waste_per_thousand: {sd: ${sd}, degrees_of_freedom: 6}}}, waste_per_thousand: {max: ${max} g}}\n`,
      ),
    );

  test('the guard band is that of repeated trials, by Student’s t', () => {
    // 18.54545 g; u = √((√(2/12)/11)² + 1.2²) = 1.200574, ν = u⁴/1.2⁴ × 6 = 6.0115, t = 2.515316 at Φ(2): band 3.019822
    // (scipy 1.17.1). Readings alone: 0.074.
    expect(decided('1.2 g', 'guarded', '21.566').verdict).toBe('pass');
    expect(decided('1.2 g', 'guarded', '21.564').verdict).toBe('inconclusive');
    expect(decided('1.2 g', 'guarded', '15.526').verdict).toBe('inconclusive');
    expect(decided('1.2 g', 'guarded', '15.524').verdict).toBe('fail');
    expect(decided('0 g', 'guarded', '18.62').verdict).toBe('pass');
  });

  test('the simple rule warns with the probability of Student’s t', () => {
    // P(T ≤ (20 − 18.54545)/1.200574), ν 6.0115: 0.864 (scipy 1.17.1).
    const { verdict, notes } = decided('1.2 g', 'simple', '20');
    expect(verdict).toBe('pass');
    expect(notes.find(({ code }) => code === 'within-uncertainty')?.message).toContain('probability of 0.86');
  });

  test('of one slot it holds for the cartridges there, and a later set wins', () => {
    const yields = (precisions: string): string =>
      judge(
        trial(
          'Teal',
          844,
          `coverage: 5 %\ncartridges: [{slot: black, exhausted_at: 11000}]\nlimits: [{decision: {rule: guarded, precision: {yield: {sd: 5 page, degrees_of_freedom: 9}}}}, {decision: {precision: {yield: ${precisions}}}}, {yield: {min: 9900}}]\n`,
        ),
      ).verdict;
    expect(yields('{of: black, sd: 5 page, degrees_of_freedom: 9}')).toBe('pass');
    expect(yields('{of: black, sd: 500 page, degrees_of_freedom: 9}')).toBe('inconclusive');
    expect(yields('{of: cyan, sd: 500 page, degrees_of_freedom: 9}')).toBe('pass');
    expect(yields('[{sd: 500 page, degrees_of_freedom: 9}]')).toBe('inconclusive');
  });

  test('a seal holds it: the file may be gone', () => {
    const files: Files = {
      't.yaml': trial('Teal', 844, 'limits: [p.yaml, {waste_per_thousand: {max: 20 g}}]\n'),
      'p.yaml':
        'decision: {rule: guarded, precision: {waste_per_thousand: {sd: 1.2 g, degrees_of_freedom: 6}}}\n',
    };
    const sealed = run(['seal', 't.yaml'], files).written;
    const changed = { ...files, ...sealed, 'p.yaml': 'decision: {rule: simple}\n' };
    const { out, code } = run(['recheck', 't.yaml'], changed);
    expect(code).toBe(0);
    expect(out).toContain('same');
  });
});
