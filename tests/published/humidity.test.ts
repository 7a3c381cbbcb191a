import { describe, expect, test } from 'vitest';
import { absoluteHumidityOf } from '../../src/figures/absolute-humidity.ts';
import { dewPointOf } from '../../src/figures/dew-point.ts';
import { saturationPressure } from '../../src/figures/magnus.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { Measured } from '../../src/uncertainty/measured.ts';
import { figure, judge } from '../run.ts';

/*
 * Moist air against published tables and computed points. Beside each stands its source and how it is
 * known: seen (read in the source), computed (with what), or from memory (recalled, not seen).
 */

const exact = (value: number): Measured => Measured.exact(value);
const density = (t: number, humidity: number): number =>
  absoluteHumidityOf(exact(t), exact(humidity)).value.toNumber();
const dewPoint = (t: number, humidity: number): number =>
  dewPointOf(exact(t), exact(humidity)).value.toNumber();

/**
 * The Magnus form of WMO-No. 8 lies 0.28 to 0.31 % below the steam tables (computed, numpy 2.4.6), and the
 * tables are rounded: agreement within 0.6 % or 0.13 g/m³.
 */
const nearTable = (value: number, table: number): boolean =>
  Math.abs(value - table) <= Math.max(0.006 * table, 0.13);

describe('saturated air against published tables', () => {
  // Seen: UNU Press 80a01e, appendix one, table A1.1, credited to the CRC Handbook, 62nd edition (1981).
  test.each([
    [16, 13.66, 18.19],
    [18, 15.4, 20.65],
    [20, 17.33, 23.4],
    [22, 19.46, 26.45],
    [24, 21.83, 29.86],
    [26, 24.43, 33.65],
    [28, 27.29, 37.84],
    [30, 30.43, 42.48],
  ])('%d °C: %d g/m³, %d mbar (CRC Handbook)', (t, rho, e) => {
    expect(nearTable(density(t, 100), rho), `${density(t, 100)}`).toBe(true);
    const pressure = saturationPressure(t);
    expect(Math.abs(pressure / e - 1)).toBeLessThan(0.006);
  });

  // Seen: medicalalgorithms.com, table of saturated absolute humidity, one decimal.
  test.each([
    [19, 16.3],
    [20, 17.3],
    [21, 18.4],
    [22, 19.4],
    [23, 20.6],
    [24, 21.8],
    [25, 23.0],
    [26, 24.4],
  ])('%d °C: %d g/m³ (table of saturated absolute humidity)', (t, rho) => {
    expect(nearTable(density(t, 100), rho), `${density(t, 100)}`).toBe(true);
  });

  test('the tables tell one degree from the next: the check can fail', () => {
    expect(nearTable(density(21, 100), 17.33)).toBe(false);
    expect(nearTable(density(19, 100), 17.33)).toBe(false);
  });
});

describe('the Magnus form of WMO-No. 8, 7th edition (formula seen second-hand, hydro-wiki.de)', () => {
  // Computed (numpy 2.4.6) from the formula; the gas constant 461.5 J/(kg K) from memory.
  test.each([
    [15, 17.01672, 12.796333],
    [18, 20.591287, 15.324806],
    [20, 23.32596, 17.241614],
    [21, 24.809042, 18.275507],
    [22, 26.374151, 19.362614],
    [23, 28.02511, 20.505194],
    [24, 29.76588, 21.705574],
    [25, 31.600569, 22.96616],
    [26, 33.533435, 24.28943],
    [27, 35.568887, 25.677942],
    [30, 42.337239, 30.261695],
  ])('saturation at %d °C: %d hPa, %d g/m³', (t, e, rho) => {
    expect(saturationPressure(t)).toBeCloseTo(e, 5);
    expect(density(t, 100)).toBeCloseTo(rho, 5);
  });

  // Computed (numpy 2.4.6): dew point by the algebraic inverse of the formula.
  test.each([
    [20, 50, 9.2551746, 8.62080717],
    [21, 45, 8.60680543, 8.22397803],
    [21, 55, 11.61058404, 10.0515287],
    [23, 40, 8.66761139, 8.20207757],
    [23, 50, 12.01387564, 10.25259696],
    [23, 60, 14.81472251, 12.30311635],
    [25, 40, 10.45726068, 9.18646399],
    [25, 60, 16.69314901, 13.77969599],
    [20, 35, 4.06110327, 6.03456502],
    [26, 65, 18.90868636, 15.78812963],
    [22, 50, 11.09459397, 9.68130723],
    [24, 50, 12.93287214, 10.85278724],
  ])('%d °C at %d %%: dew point %d °C, %d g/m³', (t, humidity, td, rho) => {
    expect(dewPoint(t, humidity)).toBeCloseTo(td, 7);
    expect(density(t, humidity)).toBeCloseTo(rho, 7);
  });

  // From another formula (computed, numpy 2.4.6, IAPWS saturation line, its coefficients from memory): within 0.35 %.
  test.each([
    [20, 50, 8.645191],
    [23, 50, 10.2834897],
    [25, 60, 13.82228831],
    [26, 65, 15.83732071],
  ])('%d °C at %d %%: near %d g/m³ of the steam tables', (t, humidity, rho) => {
    expect(Math.abs(density(t, humidity) / rho - 1)).toBeLessThan(0.0035);
  });

  test('saturated air is at its dew point', () => {
    // By definition of the dew point.
    for (const t of [-10, 0, 5, 22.5, 40, 60]) expect(dewPoint(t, 100)).toBeCloseTo(t, 10);
  });

  test('at 0 °C the exponent vanishes: 6.112 hPa', () => {
    expect(saturationPressure(0)).toBe(6.112);
  });
});

describe('sensitivities against numerical derivatives', () => {
  /** Sensitivity to the one input the argument depends on. */
  const sensitivity = (of: (x: Measured) => Measured, at: number): number => {
    const source = { path: [], value: new Decimal(at), unit: '', u: new Decimal(1) };
    const result = of(Measured.reading(source.value, [source]));
    return result.sensitivities.get(source) ?? NaN;
  };
  const STEP = 1e-3;
  const slope = (of: (x: Measured) => Measured, at: number): number =>
    (of(exact(at + STEP)).value.toNumber() - of(exact(at - STEP)).value.toNumber()) / (2 * STEP);

  describe.each([
    ['absolute humidity', absoluteHumidityOf],
    ['dew point', dewPointOf],
  ])('%s', (_, formula) => {
    test.each([
      [-20, 80],
      [0, 50],
      [15, 12],
      [20, 35],
      [23, 50],
      [26, 65],
      [35, 95],
      [55, 5],
    ])('at %d °C and %d %%', (t, humidity) => {
      const ofT = (x: Measured): Measured => formula(x, exact(humidity));
      const ofU = (x: Measured): Measured => formula(exact(t), x);
      expect(sensitivity(ofT, t) / slope(ofT, t)).toBeCloseTo(1, 6);
      expect(sensitivity(ofU, humidity) / slope(ofU, humidity)).toBeCloseTo(1, 6);
    });
  });
});

describe('in a trial', () => {
  const room = (...readings: readonly string[]): string =>
    [
      'trial: Ferry Lane lot 3, machine Teal',
      'meter: {start: 0, end: 1000}',
      'ambient:',
      ...readings.map((reading) => `  - {${reading}}`),
      '',
    ].join('\n');

  test('23 °C at 50 %: 10.2526 g/m³, dew point 12.0139 °C (computed, numpy 2.4.6)', () => {
    const trial = room('temperature: 23.0 °C, humidity: 50 %');
    expect(Number(figure(trial, 'absolute_humidity', null, 'mean')?.value)).toBeCloseTo(10.25259696, 7);
    expect(Number(figure(trial, 'dew_point', null, 'mean')?.value)).toBeCloseTo(12.01387564, 7);
  });

  test('air without any water has no dew point, and no figure made of nothing', () => {
    const trial = room('temperature: 23.0 °C, humidity: 0 %');
    expect(figure(trial, 'dew_point', null, 'least')).toBeUndefined();
    expect(figure(trial, 'absolute_humidity', null, 'least')?.value).toBe('0');
  });

  test('the form is not used outside −45 to 60 °C (range from memory)', () => {
    for (const t of ['-45', '60']) {
      expect(figure(room(`temperature: ${t} °C, humidity: 50 %`), 'dew_point', null, 'least')).toBeDefined();
    }
    for (const t of ['-45.1', '60.1', '500000']) {
      const { figures, code } = judge(room(`temperature: ${t} °C, humidity: 50 %`));
      const names = figures.map((one) => one.figure);
      expect(names).not.toContain('dew_point');
      expect(names).not.toContain('absolute_humidity');
      expect(names).toContain('temperature');
      expect(code).toBe(2);
    }
  });

  test('each pair of readings gives one value; least, greatest and mean are of those', () => {
    // Computed (numpy 2.4.6), the points above; the mean of them by hand.
    const trial = room('temperature: 20.0 °C, humidity: 50 %', 'temperature: 26.0 °C, humidity: 65 %');
    const value = (stat: string): number =>
      Number(figure(trial, 'absolute_humidity', null, stat)?.value ?? NaN);
    expect(value('least')).toBeCloseTo(8.62080717, 7);
    expect(value('greatest')).toBeCloseTo(15.78812963, 7);
    expect(value('mean')).toBeCloseTo((8.62080717 + 15.78812963) / 2, 7);
  });
});
