import { describe, expect, test } from 'vitest';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { type Input, Measured } from '../../src/uncertainty/measured.ts';
import { figure } from '../run.ts';

/*
 * Propagation of uncertainty against worked examples. Beside each stands its source and how it is known:
 * seen (read in the source), computed (with what), or from memory (recalled, not seen).
 */

const input = (value: number | string, u: number | string): Input => ({
  path: [],
  value: new Decimal(value),
  unit: '',
  u: new Decimal(u),
});

const reading = (value: number | string, u: number | string): Measured =>
  Measured.reading(new Decimal(value), [input(value, u)]);

const relative = ({ value, u }: Measured): Decimal => u.div(value.abs());

describe('EURACHEM/CITAC, appendix A1: a calibration standard, c = 1000 m P / V', () => {
  // Inputs and results seen: measurementuncertainty.org/guide/app_a_example1.html.
  const m = reading('100.28', '0.05');
  const purity = reading('0.9999', '0.000058');
  const volume = reading('100.0', '0.07');
  const c = m.times(1000).times(purity).over(volume, 'V');

  test('the published concentration, 1002.7 ± 0.9 mg/L', () => {
    expect(c.value.toFixed(1)).toBe('1002.7');
    expect(c.u.toFixed(1)).toBe('0.9');
  });

  test('the published relative uncertainties: 0.0005, 0.000058, 0.0007, together 0.0009', () => {
    const share = [...c.contributions.values()].map((variance) => Math.sqrt(variance) / c.value.toNumber());
    expect(share.map((part) => part.toFixed(6))).toEqual(['0.000499', '0.000058', '0.000700']);
    expect(relative(c).toFixed(4)).toBe('0.0009');
  });

  test('all digits: 1002.69972, u 0.86370259 (computed, numpy 2.4.6)', () => {
    expect(c.value.toFixed()).toBe('1002.69972');
    expect(c.u.toNumber()).toBeCloseTo(0.86370259, 8);
  });
});

describe('EURACHEM/CITAC QUAM 8.2.6 (numbers from memory; arithmetic computed, numpy 2.4.6)', () => {
  test('rule 1, sums and differences: 5.02 − 6.45 + 9.04 = 7.61, u 0.26', () => {
    const y = reading('5.02', '0.13').minus(reading('6.45', '0.05')).plus(reading('9.04', '0.22'));
    expect(y.value.toFixed()).toBe('7.61');
    expect(y.u.toFixed(2)).toBe('0.26');
    expect(y.u.toNumber()).toBeCloseTo(0.26038433, 8);
  });

  test('rule 2, products and quotients: 2.46 × 4.32 / (6.38 × 2.99) = 0.56, u 0.024', () => {
    const above = reading('2.46', '0.02').times(reading('4.32', '0.13'));
    const below = reading('6.38', '0.11').times(reading('2.99', '0.07'));
    const y = above.over(below, 'q r');
    expect(y.value.toFixed(2)).toBe('0.56');
    expect(y.u.toFixed(3)).toBe('0.024');
    expect(y.value.toNumber()).toBeCloseTo(0.55709208, 8);
    expect(y.u.toNumber()).toBeCloseTo(0.02374689, 8);
  });
});

describe('JCGM 100:2008 (GUM)', () => {
  test('H.1, components of 25, 9.7, 2.9 and 16.6 nm combine to 32 nm', () => {
    // The components from memory of H.1. √(625 + 94.09 + 8.41 + 275.56) = 31.6711, by hand.
    const parts = ['25', '9.7', '2.9', '16.6'].map((u) => reading(0, u));
    const { u } = Measured.sum(parts);
    expect(u.toFixed(0)).toBe('32');
    expect(u.toNumber()).toBeCloseTo(31.6711, 4);
  });

  test('H.1, an end gauge of 50.000 838 mm, u 32 nm, from the model l = l_S + d − l_S (δα θ + α_S δθ)', () => {
    /*
     * Result and inputs from memory. 31.7106 nm computed (numpy 2.4.6).
     * θ and α_S have no part in it to first order: their partner in the product is zero.
     */
    const standard = reading('50000623', '25');
    const difference = reading('215', '9.7');
    const alpha = reading('11.5e-6', '1.2e-6');
    const deltaAlpha = reading('0', '0.58e-6');
    const theta = reading('-0.1', '0.41');
    const deltaTheta = reading('0', '0.029');
    const expansion = deltaAlpha.times(theta).plus(alpha.times(deltaTheta));
    const length = standard.plus(difference).minus(standard.times(expansion));
    expect(length.value.toFixed()).toBe('50000838');
    expect(length.u.toFixed(0)).toBe('32');
    expect(length.u.toNumber()).toBeCloseTo(31.7106, 4);
  });

  // F.2.2.1 (from memory): a step d of the display brings d/√12 = 0.288675 d, printed as 0.29 δx. Computed (numpy 2.4.6).
  test.each([
    ['22 °C', 0.288675],
    ['22.5 °C', 0.0288675],
    ['22.50 °C', 0.00288675],
  ])('F.2.2.1, resolution: a thermometer that shows %s brings u %d °C', (written, u) => {
    const read = figure(
      `trial: Ferry Lane lot 3, machine Teal\nmeter: {start: 0, end: 1}\nambient: [{temperature: ${written}}]\n`,
      'temperature',
      null,
      'least',
    );
    expect(Number(read?.u) / u).toBeCloseTo(1, 5);
  });

  const weighed = (scale: string): string =>
    [
      'trial: Ferry Lane lot 3, machine Teal',
      'meter: {start: 0, end: 1000}',
      scale,
      'waste_container: {tare: 640 g, final: 948 g}',
      '',
    ].join('\n');

  test('the difference of two weighings to 1 g has u = 0.408 g', () => {
    // F.2.2.1 twice (from memory): √(2 × 1²/12) = √(1/6) = 0.40824829 g, computed by hand.
    const mass = figure(weighed('instruments: {}'), 'waste_mass');
    expect(mass?.value).toBe('308');
    expect(Number(mass?.u)).toBeCloseTo(0.40824829, 8);
  });

  test('the largest error of a scale adds e/√3 to each weighing', () => {
    // 4.3.7 (seen second-hand): half-width a brings a/√3. √(2 × (1/12 + 1/3)) = √(5/6) = 0.91287093 g, computed by hand.
    const mass = figure(weighed('instruments: {scale: {max_error: 1 g}}'), 'waste_mass');
    expect(Number(mass?.u)).toBeCloseTo(0.91287093, 8);
  });

  test('one error common to all readings does not average out', () => {
    // 5.2.2 (from memory): fully correlated parts add by value. Four readings to 0.1 °C, common error 0.3 °C:
    // 0.1²/(12 × 4) + 0.3²/3 = 0.03020833. What was not sampled: the differences of neighbours are 0.5, 0.5 and −0.5,
    // s² = 0.75/(2 × 3) = 0.125, s²/4 = 0.03125. u = √0.06145833 = 0.24790791 °C, computed by hand.
    const mean = figure(
      [
        'trial: Ferry Lane lot 3, machine Teal',
        'meter: {start: 0, end: 1}',
        'instruments: {thermometer: {max_error: 0.3 °C}}',
        'ambient: [{temperature: 21.5}, {temperature: 22.0}, {temperature: 22.5}, {temperature: 22.0}]',
        '',
      ].join('\n'),
      'temperature',
      null,
      'mean',
    );
    expect(mean?.value).toBe('22');
    expect(Number(mean?.u)).toBeCloseTo(0.24790791, 8);
  });
});

/*
 * JCGM 100:2008, H.2: resistance, reactance and impedance from voltage, current and phase angle that were
 * observed together. Data and published results from memory; the five sets reproduce every published
 * result. Digits beyond the published ones computed (numpy 2.4.6).
 */
describe('JCGM 100:2008, H.2, correlated inputs', () => {
  const VOLT = [5.007, 4.994, 5.005, 4.99, 4.999];
  const MILLIAMPERE = [19.663, 19.639, 19.64, 19.685, 19.678];
  const RADIAN = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];

  const mean = (xs: readonly number[]): number => xs.reduce((sum, x) => sum + x, 0) / xs.length;

  /** Covariance of the means of two series (GUM 5.2.3, equation 17). */
  const covariance = (xs: readonly number[], ys: readonly number[]): number => {
    const [x0, y0] = [mean(xs), mean(ys)];
    const sum = xs.reduce((total, x, index) => total + (x - x0) * ((ys[index] ?? NaN) - y0), 0);
    return sum / (xs.length * (xs.length - 1));
  };
  const spread = (xs: readonly number[]): number => Math.sqrt(covariance(xs, xs));
  const correlation = (xs: readonly number[], ys: readonly number[]): number =>
    covariance(xs, ys) / (spread(xs) * spread(ys));

  // Cholesky factor of the covariance: the three means are linear in three independent inputs of u = 1.
  const a11 = spread(VOLT);
  const a21 = covariance(MILLIAMPERE, VOLT) / a11;
  const a22 = Math.sqrt(covariance(MILLIAMPERE, MILLIAMPERE) - a21 ** 2);
  const a31 = covariance(RADIAN, VOLT) / a11;
  const a32 = (covariance(RADIAN, MILLIAMPERE) - a31 * a21) / a22;
  const a33 = Math.sqrt(covariance(RADIAN, RADIAN) - a31 ** 2 - a32 ** 2);
  const z = [reading(0, 1), reading(0, 1), reading(0, 1)];
  const built = (value: number, row: readonly number[]): Measured =>
    Measured.of(
      new Decimal(value),
      z.map((source, index) => [source, new Decimal(row[index] ?? NaN)]),
    );
  const volt = built(mean(VOLT), [a11, 0, 0]);
  const ampere = built(mean(MILLIAMPERE), [a21, a22, 0]).over(1000, 'mA in A');
  const angle = built(mean(RADIAN), [a31, a32, a33]);

  const phi = angle.value.toNumber();
  const cosine = Measured.of(new Decimal(Math.cos(phi)), [[angle, new Decimal(-Math.sin(phi))]]);
  const sine = Measured.of(new Decimal(Math.sin(phi)), [[angle, new Decimal(Math.cos(phi))]]);
  const impedance = volt.over(ampere, 'I');
  const resistance = impedance.times(cosine);
  const reactance = impedance.times(sine);

  test('the observations give the published means, uncertainties and correlations', () => {
    expect(volt.value.toFixed(4)).toBe('4.9990');
    expect(volt.u.toFixed(4)).toBe('0.0032');
    expect(ampere.value.times(1000).toFixed(3)).toBe('19.661');
    expect(ampere.u.times(1000).toFixed(4)).toBe('0.0095');
    expect(angle.value.toFixed(5)).toBe('1.04446');
    expect(angle.u.toFixed(5)).toBe('0.00075');
    expect(correlation(VOLT, MILLIAMPERE).toFixed(2)).toBe('-0.36');
    expect(correlation(VOLT, RADIAN).toFixed(2)).toBe('0.86');
    expect(correlation(MILLIAMPERE, RADIAN).toFixed(2)).toBe('-0.65');
  });

  test('R = V/I cos φ = 127.732 Ω, u 0.071 Ω', () => {
    expect(resistance.value.toFixed(3)).toBe('127.732');
    expect(resistance.u.toFixed(3)).toBe('0.071');
    expect(resistance.u.toNumber()).toBeCloseTo(0.0710714, 7);
  });

  test('X = V/I sin φ = 219.847 Ω, u 0.295 Ω (printed; 0.2956 from the same data)', () => {
    expect(reactance.value.toFixed(3)).toBe('219.847');
    expect(Math.abs(reactance.u.toNumber() - 0.295)).toBeLessThan(0.001);
    expect(reactance.u.toNumber()).toBeCloseTo(0.2955817, 7);
  });

  test('Z = V/I = 254.260 Ω, u 0.236 Ω', () => {
    expect(impedance.value.toFixed(3)).toBe('254.260');
    expect(impedance.u.toFixed(3)).toBe('0.236');
    expect(impedance.u.toNumber()).toBeCloseTo(0.2363361, 7);
  });

  test('the published correlations of the results follow from the shared inputs', () => {
    const together = (a: Measured, b: Measured): number => {
      let sum = 0;
      for (const [source, c] of a.sensitivities) {
        sum += c * (b.sensitivities.get(source) ?? 0) * source.u.toNumber() ** 2;
      }
      return sum / a.u.times(b.u).toNumber();
    };
    expect(together(resistance, reactance).toFixed(3)).toBe('-0.588');
    expect(together(resistance, impedance).toFixed(3)).toBe('-0.485');
    expect(together(reactance, impedance).toFixed(3)).toBe('0.993');
  });

  test('the root sum of squares, which leaves the correlation out, gives 0.204 instead of 0.236', () => {
    // 0.2040764 computed (numpy 2.4.6).
    const alone = reading(mean(VOLT), spread(VOLT)).over(
      reading(mean(MILLIAMPERE) / 1000, spread(MILLIAMPERE) / 1000),
      'I',
    );
    expect(alone.value.toFixed(3)).toBe('254.260');
    expect(alone.u.toFixed(3)).toBe('0.204');
    expect(alone.u.toNumber()).toBeCloseTo(0.2040764, 7);
    expect(impedance.u.minus(alone.u).toNumber()).toBeGreaterThan(0.03);
  });
});
