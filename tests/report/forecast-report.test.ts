import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { HtmlValidate } from 'html-validate';
import { describe, expect, test } from 'vitest';
import { studentQuantile } from '../../src/statistics/student.ts';
import { type Files, type Ran, ROOT, run } from '../run.ts';
import { runReport } from './run-report.ts';

/* The page of several trials at several coverages. 10000 pages took 6 mg + 4 mg for each percent, by hand. */

const trial = (coverage: number, used: number, final: number): string => `
trial: Ferry Lane lot 9, ${used} g
machine: {label: Teal, model: T 30}
meter: {start: 10000, end: 20000}
coverage: ${coverage} %
waste_container: {tare: 640 g, final: ${final} g, capacity: 500 g}
cartridges: [{slot: black, start_mass: 900.00 g, end_mass: ${900 - used}.00 g, fill_mass: 310 g, residual_mass: 10 g, price: 45 EUR}]
events: []
`;
const FILES: Files = {
  't/a.yaml': trial(1, 98, 650),
  't/b.yaml': trial(1, 102, 651),
  't/c.yaml': trial(6, 294, 670),
  't/d.yaml': trial(6, 306, 672),
  't/mix.yaml':
    'mix: Quay\nkinds:\n  - {kind: letters, share: 75 %, coverage: 2 %}\n  - {kind: lists, share: 25 %, coverage: 6 %}\n',
};
const TRIALS = ['t/a.yaml', 't/b.yaml', 't/c.yaml', 't/d.yaml'];
const MIX = ['--mix', 't/mix.yaml', '--pages-per-month', '2500'];

const report = (options: readonly string[], files: Files = FILES, trials = TRIALS): Ran =>
  runReport([...trials, '--output', '-', ...options], files);
const markdown = (...options: string[]): string => report(['--format', 'md', ...options]).out;

describe('a report on trials at several coverages', () => {
  test('has the line with its points, for toner and for waste', () => {
    const out = markdown();
    expect(out).toContain('## Toner and waste against coverage');
    expect(out).toContain('4 cartridges at 2 coverages from 1 % to 6 %.');
    expect(out).toMatch(/\*\*m0, at no coverage:\*\* 6\.\d+ ± \d/);
    expect(out).toMatch(/\| b\.yaml \| 1 \| 10\.20000 ± 0\.00082 \| /);
    expect(out).toContain('### Waste');
    expect(out).not.toContain('What the mix takes');
  });

  test('the picture is told in words: the line, its band, and every point', () => {
    const out = markdown();
    const alternative = /\*\*Toner, black: mg a page against coverage\*\* (.*)/.exec(out)?.[1] ?? '';
    expect(alternative).toContain('At 1 %: 10 mg, a further cartridge between ');
    const [, lower, upper] = /between ([\d.]+) and ([\d.]+) mg/.exec(alternative) ?? [];
    // Even in the logarithm about 10 mg.
    expect(Number(lower) * Number(upper)).toBeCloseTo(100, -1);
    // Relative: τ² (1/2 + 1), of the mean of two and of one more; τ² is the sum of squares over two degrees of freedom.
    const squares = 2 * 0.02 ** 2 + 2 * 0.02 ** 2;
    const half = studentQuantile(0.975, 2) * Math.sqrt((squares / 2) * 1.5);
    expect(Number(upper)).toBeCloseTo(10 * Math.exp(half), 1);
    expect(alternative).toContain('Measured at 6 %: 30.6 mg.');
  });

  test('HTML: one picture for each line, with title and text; colours with a value of their own; valid', async () => {
    const { out, code } = report(MIX);
    expect(code).toBe(0);
    const svgs = [...out.matchAll(/<svg role="img"[^]*?<\/svg>/g)].map(([svg]) => svg);
    const drawn = svgs.filter((svg) => svg.includes('mg a page against coverage'));
    // Each in both widths.
    expect(drawn).toHaveLength(4);
    for (const svg of drawn) {
      expect(svg).toMatch(/<title id="[^"]+">/);
      expect(svg).toMatch(/<desc id="[^"]+">/);
      expect(svg.match(/<circle/g)).toHaveLength(4);
      for (const [colour] of svg.matchAll(/var\([^)]*\)/g))
        expect(colour).toMatch(/^var\(--\w+, #[0-9a-f]{6}\)$/);
      expect(svg).not.toContain('NaN');
    }
    const { valid, results } = await new HtmlValidate({ extends: ['html-validate:standard'] }).validateString(
      out,
    );
    expect(
      results.flatMap(({ messages }) => messages.map(({ ruleId, message }) => `${ruleId}: ${message}`)),
      String(valid),
    ).toEqual([]);
  });

  test('a mix: what its pages take, as forecast says it, and the mix among the inputs', () => {
    const out = markdown(...MIX);
    const forecast = run(['forecast', ...TRIALS, ...MIX], FILES).out;
    expect(out).toContain('## What the mix takes: Quay');
    for (const name of [
      'yield of a cartridge',
      'cost of 1000 pages',
      'cartridges a year',
      'waste containers a year',
      'machine stops a year',
    ]) {
      const shown = new RegExp(`${name} +(\\S+(?: ± \\S+)?)`).exec(forecast)?.[1];
      expect(shown, name).toBeDefined();
      expect(out, name).toMatch(new RegExp(`\\| ${name} \\| ${shown?.replaceAll('.', '\\.') ?? ''}`));
    }
    expect(out).toContain('Most of the uncertainty');
    const sha256 = createHash('sha256').update(String(FILES['t/mix.yaml'])).digest('hex');
    expect(out).toContain(sha256);
    expect(out).toContain('--mix mix.yaml');
  });

  test('trials at one coverage have no such section, and no mix', () => {
    const trials = TRIALS.slice(0, 2);
    expect(report(['--format', 'md'], FILES, trials).out).not.toContain('Toner and waste against coverage');
    const refused = report(['--format', 'md', ...MIX], FILES, trials);
    expect([refused.code, refused.out]).toEqual([3, '']);
    expect(refused.err).toContain('nothing to forecast by');
  });

  test('machines of two models make no line', () => {
    const two = { ...FILES, 't/d.yaml': trial(6, 306, 672).replace('T 30', 'T 50') };
    expect(report(['--format', 'md'], two).out).not.toContain('Toner and waste against coverage');
    const refused = report(['--format', 'md', ...MIX], two);
    expect(refused.code).toBe(3);
    expect(refused.err).toContain('different models');
  });

  test.each([
    [['--pages-per-month', '100'], TRIALS, 'need --mix'],
    [['--mix', 't/mix.yaml'], ['t/a.yaml'], 'give them all'],
    [['--mix', 't/mix.yaml', '--each'], TRIALS, 'without --each'],
  ])('wrong usage: %j', (options, trials, words) => {
    const { code, err } = runReport([...trials, ...options], FILES);
    expect(code).toBe(4);
    expect(err).toContain(words);
  });

  test('a mix that is not there, or a folder, is said as forecast says it', () => {
    for (const given of [
      ['--mix', 't/nosuch.yaml'],
      ['--mix', 'src', '--counted-by', 'inkcov'],
    ]) {
      const { code, err } = report(given);
      expect(code).toBe(3);
      expect(err).toContain(given[1]);
      expect(err).toBe(run(['forecast', ...TRIALS, ...given], FILES).err);
    }
  });

  test('names from a file are text, whatever is in them', () => {
    const hostile = {
      ...FILES,
      't/mix.yaml': String(FILES['t/mix.yaml']).replace('Quay', '"<script>alert(1)</script>"'),
    };
    const { out } = report(MIX, hostile);
    expect(out).not.toContain('<script>alert');
    expect(out).toContain('&lt;script&gt;alert');
  });
});

test('the examples: candidate beside reference', () => {
  const folder = 'examples/forecast';
  expect(readFileSync(join(ROOT, folder, 'r6-1.yaml'), 'utf8')).toContain('reference:');
  const { out } = runReport([
    folder,
    '--format',
    'md',
    '--output',
    '-',
    '--mix',
    'examples/mixes/quay-street.yaml',
  ]);
  expect(out).toContain('|  | black, candidate | black, reference |');
  expect(out).toContain('### Toner, black, reference');
});
