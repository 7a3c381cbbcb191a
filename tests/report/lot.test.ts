import { describe, expect, test } from 'vitest';
import { type Files, run } from '../run.ts';
import { runReport } from './run-report.ts';

/*
 * The lot in a report. Which numbers a plan has is checked in tests/published/lot.test.ts; here they are met again on
 * the page. 22 of 400 with none failing: 10 % failing accepted in 9.2 % of cases, C(360, 22)/C(400, 22) = 0.0921; 5 % in
 * 31.3 %, C(380, 22)/C(400, 22) = 0.3135 (Python's math.comb).
 */

const TERMS = 'target: {lot: {limiting_quality: 10 %}}\n';

interface Told {
  readonly waste?: number | null;
  readonly terms?: string;
  readonly lot?: string;
  readonly more?: string;
}

const trial = (nth: number, { waste = 20, terms = TERMS, lot = 'K-20', more = '' }: Told = {}): string =>
  `trial: {title: "Ferry Lane, run ${nth}"}
lot: {id: ${lot}, supplier: Millrace Works, size: 400}
machine: {label: ${nth % 2 === 0 ? 'Teal' : 'Wren'}}
meter: {start: 0, end: 10000}
coverage: 5 %
cartridges: [{slot: black, serial: S-${nth}, exhausted_at: ${9000 + nth}}]
waste_container: {tare: 600 g, final: ${waste === null ? '' : `${600 + 10 * waste} g`}}
limits: {waste_per_thousand: {max: 25 g}}
${terms}${more}`;

const files = (trials: readonly string[]): Files =>
  Object.fromEntries(trials.map((text, nth) => [`lots/t${String(nth).padStart(2, '0')}.yaml`, text]));

const many = (count: number, told: (nth: number) => Told = () => ({})): string[] =>
  Array.from({ length: count }, (_, nth) => trial(nth, told(nth)));

const page = (trials: readonly string[], ...options: string[]): string => {
  const { code, out, err } = runReport(
    ['lots', '--format', 'md', '--output', '-', ...options],
    files(trials),
  );
  expect([code, err]).toEqual([0, '']);
  return out.replace(/[\u00a0\u202f]/g, ' ');
};

describe('the lot of several trials', () => {
  test.each([
    ['accept', many(22), 'Accept. Lot K-20, 400 cartridges: 22 tried, none failed.'],
    [
      'reject',
      many(5, (nth) => (nth === 3 ? { waste: 30 } : {})),
      'Reject. Lot K-20, 400 cartridges: 5 tried, 1 failed.',
    ],
    ['go on', many(4), 'Go on. Lot K-20, 400 cartridges: 4 tried, none failed.'],
  ])('%s is the answer, and the head of its own section', (decision, trials, answer) => {
    const out = page(trials);
    expect(out).toContain(`## ${answer}\n`);
    expect(out).toContain(`## Lot K-20: ${decision}\n`);
  });

  test('what comes next, the terms, the counts and the largest share', () => {
    const out = page(many(4));
    expect(out).toContain(
      'The lot is accepted if the next 18 cartridges pass; it is rejected if the next one fails.',
    );
    expect(out).toContain('**limiting quality:** 10 % failing, 40 of 400; consumer’s risk 10 %');
    expect(out).toContain('**rule:** try 22; accept with none failing');
    expect(out).toContain('**tried:** 4 of 400: 4 passed, 0 failed');
    // Four of 400: tests/published/lot.test.ts.
    expect(out).toContain('43.5 % of the lot (174 of 400) may fail; more is ruled out with 90 % confidence');
    expect(out).toContain('none passed over');
    expect(out).not.toContain('--draw');
  });

  test('an inconclusive trial is told, and is no pass', () => {
    const out = page(many(22, (nth) => (nth === 7 ? { waste: null } : {})));
    expect(out).toContain('## Lot K-20: go on');
    expect(out).toContain('**inconclusive:** 1 cartridge: neither passed nor failed.');
    expect(out).toContain('| black, S-7 | says nothing | Wren |');
    expect(out).toContain('(21 of 400 tried, none failed; 1 inconclusive, counted as neither)');
  });

  test('how often such a lot is accepted: a table, and a picture that says the same in words', () => {
    const out = page(many(4));
    expect(out).toContain('| 40 of 400 | 10.0 | 9.2 | limiting quality; at most 10 % |');
    expect(out).toContain('| 20 of 400 | 5.0 | 31.3 |  |');
    expect(out).toContain('at the limiting quality, 10 %, it is accepted in 9.2 % of cases.');
    const html = runReport(['lots', '--output', '-'], files(many(4))).out;
    const svg = html.split('<svg').find((one) => /<title[^>]*>How often lot/.test(one)) ?? '';
    expect(svg).toMatch(/<title[^>]*>How often lot K-20 would be accepted, by its failing share<\/title>/);
    expect(svg).toMatch(/<desc[^>]*>Share of the lot that fails/);
    expect(svg).toContain('var(--accent, #1b5a6e)');
  });

  test('by the sequential rule where it is asked for, and the page says so', () => {
    const terms = 'target: {lot: {limiting_quality: 10 %, acceptable_quality: 1 %}}\n';
    const out = page(
      many(24, () => ({ terms })),
      '--rule',
      'sequential',
    );
    expect(out).toContain('## Lot K-20: accept');
    expect(out).toContain('Wald’s sequential plan, h1 0.9389, h2 1.2054, s 0.03975');
    expect(out).toContain('--rule sequential');
    expect(page(many(24, () => ({ terms })))).toContain('## Lot K-20: go on');
  });

  test('beside a claim it is a fact of the first screen', () => {
    const out = page(many(4), '--claim', '8000');
    expect(out).toContain('**Lot K-20:** Go on (4 of 400 tried, none failed)');
    expect(out).not.toContain('## Go on.');
  });

  test('without terms there is none', () => {
    expect(page(many(4, () => ({ terms: '' })))).not.toMatch(/^## .*[Ll]ot/m);
  });

  test.each([
    ['several lots', [trial(1), trial(2, { lot: 'M-3' })], 'these trials are of several lots'],
    [
      'other terms',
      [trial(1), trial(2, { terms: TERMS.replace('10', '5') })],
      'quality is 10 in t00.yaml, 5 in t01.yaml',
    ],
    [
      'no size',
      [trial(1), trial(2)].map((one) => one.replace(', size: 400', '')),
      'how many cartridges it has is not said',
    ],
    [
      'terms that are none',
      many(2, () => ({ terms: TERMS.replace('}}', ', acceptable_quality: 12 %}}') })),
      'Nothing is decided of the lot:',
    ],
  ])('nothing is decided of %s', (_, trials, said) => {
    const out = page(trials);
    expect(out).toContain('## The lot\n');
    expect(out).toContain(said);
    expect(out).not.toMatch(/Lot K-20: accept/);
  });
});

describe('a delivery', () => {
  const CLASSES =
    'target: {lot: {inspection: {critical: {limiting_quality: 3 %}, major: {limiting_quality: 10 %}}}}\n';
  const delivery = {
    'lots/d.yaml': `trial: Quay Lane, delivery\nlot: {id: K-20, size: 400}\nmeter: {start, end}\ninspection: {file: d.csv}\n${CLASSES}`,
    'lots/d.csv': `serial,finding,severity\nD-1,seal torn,critical\n${Array.from({ length: 70 }, (_, nth) => `D-${nth + 2},,`).join('\n')}\n`,
  };

  test('is a part of the page of its file', () => {
    const { code, out } = runReport(['lots/d.yaml', '--format', 'md', '--output', '-'], delivery);
    expect(code).toBe(0);
    expect(out).toContain('## Lot K-20: reject');
    expect(out).toContain('| critical | reject | 1 found; accept with none |');
    expect(out).toContain('| D-1 | critical | seal torn | d.yaml |');
    expect(out).toContain('table');
  });

  test('decides together with the trials, as lot does', () => {
    const all = { ...files(many(22)), ...delivery };
    const { out } = runReport(['lots', '--format', 'md', '--output', '-'], all);
    expect(out).toContain(
      '## Reject. Lot K-20, 400 cartridges: 22 tried, none failed, 71 inspected on delivery.',
    );
    expect(run(['lot', 'lots'], all).code).toBe(1);
  });
});

test('names stay as they were written', () => {
  const out = page(many(4, () => ({ lot: '112480' })));
  expect(out).toContain('Lot 112480, 400 cartridges');
  expect(out).toContain('How often lot 112480 would be accepted');
});
