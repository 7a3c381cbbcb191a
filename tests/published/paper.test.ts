import { describe, expect, test } from 'vitest';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { figure } from '../run.ts';

/*
 * Paper and the plain arithmetic of a trial. Sizes: A4 210 × 297 mm and A3 297 × 420 mm (ISO 216, seen
 * second-hand); letter 8.5 × 11 in = 215.9 × 279.4 mm (seen). Grammage is mass per area (ISO 536, from
 * memory); a ream is 500 sheets (from memory). Masses computed by hand from these.
 */

const trial = (pages: number, ...lines: readonly string[]): string =>
  [
    'trial: Ferry Lane lot 3, machine Teal',
    `meter: {start: 41200, end: ${41200 + pages}}`,
    ...lines,
    '',
  ].join('\n');

/** A figure of the trial as a whole. */
const whole = (text: string, name: string): string | undefined => figure(text, name)?.value;

/** The mass of one sheet, in grams. */
const sheetMass = (...lines: readonly string[]): string =>
  new Decimal(whole(trial(1, ...lines), 'paper_mass') ?? NaN).times(1000).toFixed();

describe('the mass of a sheet', () => {
  test('A4 at 80 g/m²: 0.210 × 0.297 × 80 = 4.9896 g', () => {
    expect(sheetMass('paper: {size: A4, grammage: 80 g/m²}')).toBe('4.9896');
  });

  test('absent paper is A4 at 80 g/m²', () => {
    expect(sheetMass()).toBe('4.9896');
    expect(sheetMass('paper: {size: A4}')).toBe('4.9896');
    expect(sheetMass('paper: {grammage: 80}')).toBe('4.9896');
  });

  test('A3 at 80 g/m²: 9.9792 g, exactly twice A4', () => {
    expect(sheetMass('paper: {size: A3}')).toBe('9.9792');
  });

  test('letter: 0.2159 × 0.2794 × 80 = 4.8257968 g; at 75 g/m² 4.5241845 g', () => {
    expect(sheetMass('paper: {size: letter}')).toBe('4.8257968');
    expect(sheetMass('paper: {size: letter, grammage: 75 g/m²}')).toBe('4.5241845');
  });

  test('a size of one’s own, in any unit of length: 8.5 × 11 in is letter', () => {
    expect(sheetMass('paper: {size: {width: 8.5 in, height: 11 in}}')).toBe('4.8257968');
    expect(sheetMass('paper: {size: {width: 21 cm, height: 297 mm}}')).toBe('4.9896');
  });

  test('A5 is A4 cut across (148 × 210 mm, from memory): 2.4864 g; legal is 14 in long (from memory)', () => {
    expect(sheetMass('paper: {size: A5}')).toBe('2.4864');
    // 0.2159 × 0.3556 × 80 = 6.1419232 g
    expect(sheetMass('paper: {size: legal}')).toBe('6.1419232');
  });
});

describe('24 000 pages, 30 % of them on two-sided sheets', () => {
  const run = trial(24000, 'duplex_share: 30 %');

  test('7200 pages on 3600 sheets and 16 800 on as many: 20 400 sheets', () => {
    expect(whole(run, 'pages')).toBe('24000');
    expect(whole(run, 'sheets')).toBe('20400');
  });

  test('A4 at 80 g/m²: 20 400 × 4.9896 g = 101.78784 kg', () => {
    expect(whole(run, 'paper_mass')).toBe('101.78784');
  });

  test('40.8 reams of 500 sheets, 2.4948 kg each', () => {
    expect(new Decimal(whole(run, 'sheets') ?? NaN).div(500).toFixed()).toBe('40.8');
    expect(whole(run, 'paper_mass')).toBe(new Decimal('40.8').times('2.4948').toFixed());
  });

  test('none of it carries an uncertainty: settings and counts are exact', () => {
    for (const name of ['pages', 'sheets', 'paper_mass']) {
      expect(figure(run, name)).toMatchObject({ u: '0', bound: 'exact' });
    }
  });
});

describe('sheets', () => {
  // By hand: d of the pages share sheets: pages × (1 − d/2). d of the sheets are two-sided: pages / (1 + d).
  test.each([
    ['pages', 0, '24000'],
    ['pages', 50, '18000'],
    ['pages', 100, '12000'],
    ['sheets', 0, '24000'],
    ['sheets', 60, '15000'],
    ['sheets', 100, '12000'],
  ])('24 000 pages, basis %s, %d %%: %s', (basis, share, expected) => {
    expect(whole(trial(24000, `duplex_share: ${share} %`, `duplex_basis: ${basis}`), 'sheets')).toBe(
      expected,
    );
  });

  test('pages is the basis where none is named', () => {
    expect(whole(trial(24000, 'duplex_share: 60 %'), 'sheets')).toBe('16800');
  });

  test('one run told either way takes the same paper', () => {
    // 3000 two-sided and 2000 one-sided sheets: 8000 pages, 75 % of the pages, 60 % of the sheets.
    expect(whole(trial(8000, 'duplex_share: 75 %'), 'sheets')).toBe('5000');
    expect(whole(trial(8000, 'duplex_share: 60 %', 'duplex_basis: sheets'), 'sheets')).toBe('5000');
  });
});
