import { describe, expect, test } from 'vitest';
import clopperPearson from '../../shared/published/clopper-pearson.json' with { type: 'json' };
import strd from '../../shared/published/strd.json' with { type: 'json' };
import student from '../../shared/published/student-t.json' with { type: 'json' };
import factors from '../../shared/published/tolerance-factors.json' with { type: 'json' };
import two from '../../shared/published/welch.json' with { type: 'json' };
import { binomialUpper } from '../../src/statistics/binomial.ts';
import { controlChart } from '../../src/statistics/control-chart.ts';
import { logGamma } from '../../src/statistics/gamma.ts';
import { grubbs } from '../../src/statistics/grubbs.ts';
import { normalQuantile } from '../../src/statistics/normal.ts';
import { meanAndDeviation } from '../../src/statistics/sample.ts';
import { studentDistribution, studentQuantile } from '../../src/statistics/student.ts';
import { toleranceFactor } from '../../src/statistics/tolerance.ts';
import { equivalence, type Sample, welch } from '../../src/statistics/welch.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';

/*
 * Statistics for repeated trials against published tables and worked examples. The tables stand in
 * shared/published/, each with its source and how it is known: seen, computed, or from memory.
 */

/** Apart by no more than a share of the expected value. */
const close = (value: number, expected: number, share: number): void => {
  expect(Math.abs(value - expected), `${value} for ${expected}`).toBeLessThanOrEqual(
    share * Math.abs(expected),
  );
};

const decimals = (values: readonly number[]): Decimal[] => values.map((value) => new Decimal(String(value)));

const sampleOf = (values: readonly number[]): Sample => {
  const { mean, sd } = meanAndDeviation(decimals(values));
  return { n: values.length, mean: mean.toNumber(), sd: sd?.toNumber() ?? NaN };
};

describe('Student’s t, NIST/SEMATECH e-Handbook 1.3.6.7.2 (seen second-hand)', () => {
  const ENTRIES = student.rows.flatMap(({ df, published, computed }) =>
    (
      [
        [0.1, 'upper_0.10'],
        [0.05, 'upper_0.05'],
        [0.025, 'upper_0.025'],
      ] as const
    ).map(([tail, key]) => ({ df, tail, printed: published[key], digits: computed[key] })),
  );

  test('the table is whole: 30 degrees, three tails', () => {
    expect(ENTRIES).toHaveLength(90);
    expect(student.rows.map(({ df }) => df)).toEqual(Array.from({ length: 30 }, (_, index) => index + 1));
  });

  test.each(ENTRIES)('$df degrees, tail $tail: $printed as printed, $digits computed', (entry) => {
    const t = studentQuantile(1 - entry.tail, entry.df);
    expect(Number(t.toFixed(3))).toBe(entry.printed);
    // scipy 1.17.1 and R 4.2.2, printed to ten decimals.
    expect(Math.abs(t - entry.digits)).toBeLessThanOrEqual(6e-11);
    expect(studentDistribution(t, entry.df)).toBeCloseTo(1 - entry.tail, 13);
  });

  test('the lower tail mirrors the upper, and the middle is zero', () => {
    // From the table, 8 degrees.
    expect(studentQuantile(0.1, 8)).toBeCloseTo(-1.3968153097, 10);
    expect(studentQuantile(0.05, 8)).toBeCloseTo(-1.8595480375, 10);
    expect(studentQuantile(0.5, 8)).toBe(0);
    expect(studentDistribution(0, 8)).toBeCloseTo(0.5, 14);
  });

  test('with one degree it is tan (π (p − ½)) (the Cauchy distribution)', () => {
    for (const p of [0.6, 0.75, 0.9, 0.99, 0.9999])
      close(studentQuantile(p, 1), Math.tan(Math.PI * (p - 0.5)), 1e-10);
  });

  test('with two degrees it is (2p − 1) / √(2p (1 − p)) (closed form, from memory)', () => {
    for (const p of [0.6, 0.75, 0.9, 0.99, 0.9999])
      close(studentQuantile(p, 2), (2 * p - 1) / Math.sqrt(2 * p * (1 - p)), 1e-11);
  });
});

describe('Clopper and Pearson’s upper bounds (computed, scipy 1.17.1 and R 4.2.2)', () => {
  test.each(clopperPearson.rows)('$k of $n, $confidence', (row) => {
    expect(Math.abs(binomialUpper(row.k, row.n, row.confidence) - row.one_sided_upper)).toBeLessThan(6e-12);
    const twoSided = binomialUpper(row.k, row.n, (1 + row.confidence) / 2);
    expect(Math.abs(twoSided - row.two_sided.upper)).toBeLessThan(6e-12);
  });

  test('NIST/SEMATECH e-Handbook 7.2.4.1: 4 of 20, 90 % two-sided, 0.401029 (seen second-hand)', () => {
    // The last digit printed is one off: exactly 0.401028117 (computed).
    expect(Math.abs(binomialUpper(4, 20, 0.95) - 0.401029)).toBeLessThanOrEqual(2e-6);
  });

  test.each([1, 2, 4, 9, 40, 1000])('none of %i: 1 − α^(1/n)', (n) => {
    for (const level of [0.9, 0.95, 0.99]) {
      close(binomialUpper(0, n, level), 1 - Math.pow(1 - level, 1 / n), 1e-11);
    }
  });

  test('all failed: the bound is 1', () => {
    expect(binomialUpper(3, 3, 0.9)).toBe(1);
  });
});

describe('one-sided tolerance factors, exact', () => {
  test.each(factors.rows)('n $n, share $p, confidence $confidence: $k1_exact (computed)', (row) => {
    // scipy 1.17.1, non-central t, cross-checked with R 4.2.2; eight decimals.
    close(toleranceFactor(row.n, row.p, row.confidence), row.k1_exact, 5e-9);
  });

  // Seen second-hand. Natrella's approximation beside it on the page is badly high for a small n: not used.
  test.each([
    ['NIST/SEMATECH e-Handbook 7.2.6.3', 43, 1.874],
    ['NIST/SEMATECH e-Handbook 7.2.6.3', 6, 4.4111],
    ['real-statistics.com, tolerance interval example', 40, 1.9017],
  ])('%s: n %i, share 0.9, confidence 0.99: %d', (_, n, k) => {
    expect(Math.abs(toleranceFactor(n, 0.9, 0.99) - k)).toBeLessThanOrEqual(5.1e-5);
  });
});

test('what half of all exceed is the bound of the mean: k = t/√n, here 1.383/√10 (closed form)', () => {
  const t9 = student.rows.find(({ df }) => df === 9)?.computed['upper_0.10'] ?? NaN;
  close(toleranceFactor(10, 0.5, 0.9), t9 / Math.sqrt(10), 5e-9);
});

describe('means and standard deviations: NIST Statistical Reference Datasets', () => {
  const numAcc = (first: string, low: string, high: string): Decimal[] =>
    [first, ...Array.from({ length: 500 }, () => [low, high]).flat()].map((text) => new Decimal(text));
  // The data of the three larger sets follow a rule (seen in the file headers).
  const RULES: Readonly<Record<string, readonly Decimal[]>> = {
    NumAcc2: numAcc('1.2', '1.1', '1.3'),
    NumAcc3: numAcc('1000000.2', '1000000.1', '1000000.3'),
    NumAcc4: numAcc('10000000.2', '10000000.1', '10000000.3'),
  };

  test('all eight sets', () => {
    expect(strd.sets.map(({ name }) => name)).toEqual([
      'Lew',
      'Lottery',
      'Mavro',
      'Michelso',
      'NumAcc1',
      'NumAcc2',
      'NumAcc3',
      'NumAcc4',
    ]);
  });

  test.each(strd.sets)('$name, to every certified digit', ({ name, n, data, certified }) => {
    const values = RULES[name] ?? decimals(data ?? []);
    expect(values).toHaveLength(n);
    const { mean, sd } = meanAndDeviation(values);
    const places = (text: string): number => text.split('.')[1]?.length ?? 0;
    expect(mean.toFixed(places(certified.mean))).toBe(certified.mean);
    expect(sd?.toFixed(places(certified.sd))).toBe(certified.sd);
  });

  // Binary doubles would leave about nine and eight good digits of these deviations.
  test.each(['NumAcc2', 'NumAcc3', 'NumAcc4'])('%s: the deviation is 0.1 to 30 decimals', (name) => {
    const { mean, sd } = meanAndDeviation(RULES[name] ?? []);
    expect(sd?.minus('0.1').abs().lt('1e-30')).toBe(true);
    expect(mean.toFixed()).toMatch(/^10*\.2$|^1\.2$/);
  });

  test('of a single value there is no deviation', () => {
    expect(meanAndDeviation([new Decimal(7)]).sd).toBeNull();
  });
});

describe('ZARR13, NIST/SEMATECH e-Handbook 1.3.5.2 (data and figures seen, the page second-hand)', () => {
  const { data, published, computed } = strd.zarr13;
  const { n, mean, sd } = sampleOf(data);
  const t = studentQuantile(0.975, n - 1);
  const half = (t * sd) / Math.sqrt(n);

  test('as printed', () => {
    expect(n).toBe(published.n);
    // The page's last digit of the mean is one off, and with it the statistic.
    expect(Math.abs(mean - published.mean)).toBeLessThanOrEqual(1e-6);
    expect(sd.toFixed(6)).toBe(String(published.sd));
    expect(t.toFixed(4)).toBe(String(published.t_0975_194));
    expect((mean - half).toFixed(6)).toBe('9.258242');
    expect((mean + half).toFixed(6)).toBe('9.264679');
    expect(Math.abs((mean - 5) / (sd / Math.sqrt(n)) - published.t_vs_5)).toBeLessThanOrEqual(2e-3);
  });

  test('all digits (computed, numpy 2.4.6 and scipy 1.17.1)', () => {
    close(mean, computed.mean, 1e-14);
    close(sd, computed.sd, 1e-12);
    close(t, computed.t_0975_194, 1e-12);
    close(mean - half, computed.ci95[0] ?? NaN, 1e-13);
    close(mean + half, computed.ci95[1] ?? NaN, 1e-13);
  });
});

describe('two means, NIST/SEMATECH e-Handbook 7.3.1, assembly time', () => {
  const { process1_old: old, process2_new: renewed, published, computed } = two.assembly_time;
  const [a, b] = [sampleOf(old), sampleOf(renewed)];

  test('means and deviations as printed (figures seen second-hand, data from memory)', () => {
    expect([a.mean, b.mean].map((value) => value.toFixed(4))).toEqual(published.mean.map(String));
    expect([a.sd, b.sd].map((value) => value.toFixed(4))).toEqual(published.sd.map(String));
  });

  test('t and the degrees of freedom as printed', () => {
    const { t, freedom } = welch(a, b, 0.95);
    expect(t.toFixed(4)).toBe('2.2694');
    expect(freedom.toFixed(1)).toBe('15.5');
    // The critical value printed, 1.746, is that of 16 degrees.
    expect(studentQuantile(0.95, 16).toFixed(3)).toBe('1.746');
  });

  test('from the printed figures alone, four digits of t', () => {
    const printed = welch({ n: 11, mean: 36.0909, sd: 4.9082 }, { n: 9, mean: 32.2222, sd: 2.5386 }, 0.95);
    expect(printed.t.toFixed(4)).toBe('2.2694');
  });

  test('all digits (computed, scipy 1.17.1 and R 4.2.2)', () => {
    const of95 = welch(a, b, 0.95);
    const of90 = welch(a, b, 0.9);
    close(of95.t, computed.welch.t, 1e-12);
    close(of95.freedom, computed.welch.df, 1e-12);
    close(of95.interval.low, computed.welch.ci95_diff[0] ?? NaN, 1e-11);
    close(of95.interval.high, computed.welch.ci95_diff[1] ?? NaN, 1e-11);
    close(of90.interval.low, computed.welch.ci90_diff[0] ?? NaN, 1e-11);
    close(of90.interval.high, computed.welch.ci90_diff[1] ?? NaN, 1e-11);
    close(2 * (1 - studentDistribution(of95.t, of95.freedom)), computed.welch.p_two_sided, 1e-10);
  });

  test('the pooled test, 18 degrees and t 2.1353, is not what is computed here', () => {
    const { t, freedom } = welch(a, b, 0.95);
    expect(Math.abs(t - computed.pooled.t)).toBeGreaterThan(0.1);
    expect(Math.abs(freedom - computed.pooled.df)).toBeGreaterThan(2);
  });
});

describe('two means, NIST/SEMATECH e-Handbook 1.3.5.3, AUTO83B (data seen)', () => {
  const { sample1, sample2, computed } = two.auto83b;
  const [a, b] = [sampleOf(sample1), sampleOf(sample2)];

  test('sizes, means and deviations as printed (seen second-hand)', () => {
    expect([a.n, b.n]).toEqual([249, 79]);
    expect([a.mean.toFixed(5), b.mean.toFixed(5)]).toEqual(['20.14458', '30.48101']);
    expect([a.sd.toFixed(5), b.sd.toFixed(5)]).toEqual(['6.41470', '6.10771']);
  });

  test('Welch’s t, degrees and interval (computed, scipy 1.17.1 and R 4.2.2; the page prints the pooled ones)', () => {
    const { t, freedom, interval } = welch(a, b, 0.95);
    close(t, computed.welch.t, 1e-12);
    close(freedom, computed.welch.df, 1e-12);
    close(interval.low, computed.welch.ci95_diff[0] ?? NaN, 1e-12);
    close(interval.high, computed.welch.ci95_diff[1] ?? NaN, 1e-12);
  });

  test('the critical value printed for 326 degrees, 1.9673', () => {
    expect(studentQuantile(0.975, 326).toFixed(4)).toBe('1.9673');
  });
});

describe('equivalence by two one-sided tests', () => {
  /*
   * SAS/STAT User's Guide, PROC TTEST, the example of bioequivalence (data seen, results second-hand): twelve
   * pairs, limits 0.80 and 1.25 of the ratio. The pairs are a single sample of log ratios, which the module
   * for two samples takes as one of twelve against one without scatter: Satterthwaite's degrees are then the
   * twelve's own, 11, and ln 1.25 = −ln 0.80 is the margin.
   */
  const { test: tested, reference, published, computed } = two.tost;
  const logs = tested.map((value, index) => Math.log(value / (reference[index] ?? NaN)));
  const mean = logs.reduce((sum, x) => sum + x, 0) / logs.length;
  const sd = Math.sqrt(logs.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (logs.length - 1));
  const [ratios, unity] = [
    { n: 12, mean, sd },
    { n: 2, mean: 0, sd: 0 },
  ];

  test('the interval of the geometric mean ratio: 0.9412, 0.8634 to 1.0260', () => {
    const { difference, freedom, interval } = welch(ratios, unity, 0.9);
    expect(freedom).toBeCloseTo(11, 12);
    expect(Math.exp(difference).toFixed(4)).toBe(String(published.gmr));
    expect(Math.exp(interval.low).toFixed(4)).toBe('0.8634');
    expect(Math.exp(interval.high).toFixed(4)).toBe('1.0260');
    close(Math.exp(interval.low), computed.ci90[0] ?? NaN, 1e-12);
    close(Math.exp(interval.high), computed.ci90[1] ?? NaN, 1e-12);
  });

  test('the larger p of the two tests: 0.0030593, equivalent at 5 % (computed, R 4.2.2)', () => {
    const p = equivalence(ratios, unity, Math.log(1.25));
    close(p, computed.p_lower, 1e-10);
    expect(p <= 0.05).toBe(published.equivalent);
  });

  test('equivalent at α exactly when the 1 − 2α interval lies within the margins', () => {
    const { interval } = welch(ratios, unity, 0.9);
    const edge = Math.max(-interval.low, interval.high);
    expect(equivalence(ratios, unity, edge * 1.0001)).toBeLessThan(0.05);
    expect(equivalence(ratios, unity, edge * 0.9999)).toBeGreaterThan(0.05);
  });

  test('the same mean twice: both tests have t = margin / error', () => {
    // s 10 and n 4 twice: error √(100/4 + 100/4) = 7.0711, 6 degrees. A margin of 1.9431802805 of it: p 5 %.
    const same = { n: 4, mean: 500, sd: 10 };
    expect(equivalence(same, same, 1.9431802805 * Math.sqrt(50))).toBeCloseTo(0.05, 10);
  });
});

describe('Satterthwaite’s degrees of freedom, worked by hand', () => {
  test('same size, same deviation: 2 (n − 1)', () => {
    expect(welch({ n: 5, mean: 1, sd: 2 }, { n: 5, mean: 3, sd: 2 }, 0.9).freedom).toBeCloseTo(8, 12);
  });

  test('variances of the means 1 and 4 with 3 and 5 degrees: 25 / (1/3 + 16/5) = 375/53', () => {
    // s²/n: 4/4 = 1 and 24/6 = 4.
    const { freedom } = welch({ n: 4, mean: 0, sd: 2 }, { n: 6, mean: 1, sd: Math.sqrt(24) }, 0.9);
    expect(freedom).toBeCloseTo(375 / 53, 12);
  });
});

describe('standard normal quantiles', () => {
  // Tables of the normal distribution, to ten decimals (from memory; scipy 1.17.1 gives the same).
  test.each([
    [0.9, 1.2815515655],
    [0.95, 1.644853627],
    [0.975, 1.9599639845],
    [0.99, 2.326347874],
    [0.995, 2.5758293035],
    [0.999, 3.0902323062],
  ])('%d: %d', (p, z) => {
    expect(Math.abs(normalQuantile(p) - z)).toBeLessThanOrEqual(6e-11);
    expect(Math.abs(normalQuantile(1 - p) + z)).toBeLessThanOrEqual(6e-11);
  });

  test('the middle is zero', () => {
    expect(Math.abs(normalQuantile(0.5))).toBeLessThan(1e-15);
  });
});

describe('ln Γ', () => {
  test.each([1, 2, 3, 5, 9, 13, 20])('Γ(n) = (n − 1)!: n = %i', (n) => {
    let factorial = 1;
    for (let k = 2; k < n; k++) factorial *= k;
    expect(logGamma(n)).toBeCloseTo(Math.log(factorial), 12);
  });

  test('Γ(½) = √π, Γ(3/2) = √π/2, Γ(9/2) = 105 √π/16 (DLMF 5.4, from memory)', () => {
    const root = Math.sqrt(Math.PI);
    expect(logGamma(0.5)).toBeCloseTo(Math.log(root), 13);
    expect(logGamma(1.5)).toBeCloseTo(Math.log(root / 2), 13);
    expect(logGamma(4.5)).toBeCloseTo(Math.log((105 * root) / 16), 13);
  });
});

describe('Grubbs’ test, NIST/SEMATECH e-Handbook 1.3.5.17.1, uranium isotopes (data and figures from memory)', () => {
  const values = decimals([199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]);

  test('G 2.4688, the last value is an outlier', () => {
    const found = grubbs(values);
    expect(found?.G.toFixed(4)).toBe('2.4688');
    expect(found?.index).toBe(7);
    expect(found?.outlier).toBe(true);
  });

  test('the critical value of the page, 2.032, is one-sided at 5 %: the two-sided one at 10 %', () => {
    expect(grubbs(values, 0.1)?.critical.toFixed(3)).toBe('2.032');
  });

  test('none of fewer than three, and none where all are alike', () => {
    expect(grubbs(decimals([1, 900]))).toBeNull();
    expect(grubbs(decimals([7, 7, 7, 7]))).toBeNull();
  });
});

describe('individuals and moving ranges, NIST/SEMATECH e-Handbook 6.3.2.2, flow rates (from memory)', () => {
  // The figures follow from the data by hand: sum 508.1, moving ranges sum 16.9, 3 × 1.8778 / 1.128 = 4.9941.
  const chart = controlChart([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]);

  test('centre 50.81, mean moving range 1.8778, limits 45.8159 and 55.8041', () => {
    expect(chart.centre.toFixed(2)).toBe('50.81');
    expect(chart.meanRange.toFixed(4)).toBe('1.8778');
    expect(chart.lower.toFixed(4)).toBe('45.8159');
    expect(chart.upper.toFixed(4)).toBe('55.8041');
  });

  test('the moving ranges; none of the first', () => {
    const ranges = chart.points.map(({ range }) => range?.toFixed(1) ?? null);
    expect(ranges).toEqual([null, '2.0', '2.3', '1.4', '3.5', '3.4', '1.4', '0.2', '1.2', '1.5']);
  });

  test('the limits of ranges and values, from d₂ = 2/√π and d₃ = √(2 − 4/π) of two normal values (computed by hand)', () => {
    // 1 + 3 × 0.852502 / 1.128379 = 3.26653, tabled as 3.267; 3 / 1.128379 = 2.65868.
    const [d2, d3] = [2 / Math.sqrt(Math.PI), Math.sqrt(2 - 4 / Math.PI)];
    expect(chart.rangeUpper / chart.meanRange).toBeCloseTo(1 + (3 * d3) / d2, 3);
    expect((chart.upper - chart.centre) / chart.meanRange).toBeCloseTo(3 / d2, 2);
  });

  test('eight on one side are a run; a value on the centre is on neither', () => {
    // 10 + 7 × 11 + 3 = 90, over 9 values: the centre is 10. With 11 in place of the first, and 2: the centre is 10 too.
    const runs = (...values: number[]): boolean =>
      controlChart(values).points.some(({ signals }) => signals.includes('run-of-eight'));
    expect(runs(10, 11, 11, 11, 11, 11, 11, 11, 3)).toBe(false);
    expect(runs(11, 11, 11, 11, 11, 11, 11, 11, 2)).toBe(true);
    expect(runs(10, 9, 9, 9, 9, 9, 9, 9, 17)).toBe(false);
    expect(runs(9, 9, 9, 9, 9, 9, 9, 9, 18)).toBe(true);
  });

  test('in control: no signal', () => {
    expect(chart.points.flatMap(({ signals }) => signals)).toEqual([]);
  });
});
