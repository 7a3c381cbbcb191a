import { describe, expect, test } from 'vitest';
import { figure, judge, run } from '../run.ts';

/*
 * Consumables whose life is counted in pages, slots without a cartridge, lines left empty. The trials are invented;
 * expected values are worked by hand beside them.
 */

const trial = (life: string, limits = ''): string => `
trial: Tollgate Row lot 3, machine Wren
meter: {start: 1000, end: 59110}
coverage: {black: 8 %, drum: 8 %}
cartridges:
  - {slot: black, start_mass: 900 g, end_mass: 500 g, exhausted_at: 11000}
  - {slot: drum, rated_yield: 60000, exhausted_at: 59110${life}}
${limits === '' ? '' : `limits: {${limits}}`}
`;

describe('a life counted in pages', () => {
  test('is not scaled: 58,110 pages at 8 % are 58,110 at 5 %, where toner would make 92,976 of them', () => {
    const at = (life: string): string | undefined => figure(trial(life), 'yield_at_reference', 'drum')?.value;
    expect(at(', life: pages')).toBe('58110');
    expect(at('')).toBe('92976');
    expect(at(', life: toner')).toBe('92976');
    // 58,110 / 60,000
    expect(figure(trial(', life: pages'), 'yield_to_rating', 'drum')?.value).toBe('96.85');
  });

  test('holds no toner: the toner used in all is that of the others, and limits on toner do not ask for it', () => {
    const text = trial(', life: pages', 'toner_per_page: {max: 50}');
    expect(figure(text, 'toner_used', null)?.value).toBe('400');
    expect(figure(trial(''), 'toner_used', null)).toBeUndefined();
    // 400 g over 10,000 pages
    expect(judge(text).limits.map(({ of, outcome, reason }) => [of, outcome, reason])).toEqual([
      ['black', 'met', null],
    ]);
  });

  test('is worked as it is', () => {
    const { out } = run(['explain', 'yield_at_reference', 't.yaml'], { 't.yaml': trial(', life: pages') });
    expect(out).toMatch(/drum\n {4}= 58110\n {4}= 58110 page\n/);
  });

  test('is planned at its rating', () => {
    const text = trial(', life: pages').replace('end: 59110', 'end: ').replace(', exhausted_at: 59110', '');
    const { out } = run(['plan', 't.yaml', '--format', 'json'], {
      't.yaml': `${text}target: {pages: 61000}\n`,
    });
    const { cartridges } = JSON.parse(out) as { cartridges: Record<string, number> };
    expect(cartridges['drum']).toBe(2);
  });
});

test('a coverage of a slot that no cartridge is listed for is a note', () => {
  const { code, notes } = judge(`
trial: x
meter: {start: 0, end: 1000}
coverage: {black: 5 %, cyan: 5 %}
cartridges: [{slot: black}]
limits: {pages: {min: 500}}
`);
  expect(code).toBe(0);
  expect(notes.filter((note) => note.code === 'coverage-without-cartridge')).toMatchObject([
    { kind: 'note', line: 4 },
  ]);
});

describe('an empty line of the air', () => {
  const air = (lines: string): ReturnType<typeof judge> =>
    judge(
      `trial: x\nmeter: {start: 0, end: 1000}\nambient: [${lines}]\nlimits: {temperature: {max: 26 °C}}\n`,
    );

  test('is no reading beside one that was taken', () => {
    const { limits, notes } = air('{temperature: 21 °C, humidity: 45 %}, {temperature: , humidity: }');
    expect(limits.map(({ outcome }) => outcome)).toEqual(['met', 'met']);
    expect(notes.filter(({ code }) => code === 'to-be-read')).toEqual([]);
  });

  test('alone, or with its time, is one still to be taken', () => {
    for (const lines of ['{temperature: , humidity: }', '{at: 2026-03-09T09:00, temperature: , humidity: }'])
      expect(
        air(lines).limits.every(({ outcome }) => outcome === 'open'),
        lines,
      ).toBe(true);
  });
});

test('care stands before the work, on the plan and on the record sheet', () => {
  for (const options of [[], ['--record']]) {
    const { out } = run(['plan', 't.yaml', ...options], { 't.yaml': `${trial('')}target: {pages: 20000}\n` });
    expect(out.indexOf('\nCARE\n')).toBeGreaterThan(-1);
    expect(out.indexOf('\nCARE\n')).toBeLessThan(out.indexOf('\nBEFORE THE RUN\n'));
  }
});
