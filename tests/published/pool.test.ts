import { describe, expect, test } from 'vitest';
import { binomialUpper } from '../../src/statistics/binomial.ts';
import { censoredNormal } from '../../src/statistics/censored.ts';
import { logGamma } from '../../src/statistics/gamma.ts';
import { grubbs } from '../../src/statistics/grubbs.ts';
import { normalQuantile } from '../../src/statistics/normal.ts';
import { randomEffects } from '../../src/statistics/random-effects.ts';
import { meanAndDeviation } from '../../src/statistics/sample.ts';
import { studentQuantile } from '../../src/statistics/student.ts';
import { toleranceFactor } from '../../src/statistics/tolerance.ts';
import { equivalence, type Sample, welch } from '../../src/statistics/welch.ts';
import { type PooledCartridge } from '../../src/pool/cartridge.ts';
import { type Confidence, poolGroup } from '../../src/pool/group.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { cartridge } from '../pool/cartridge.ts';
import reference from './pool-reference.json' with { type: 'json' };

/*
 * Pooling against values computed by pool.R in this folder, frozen in pool-reference.json with the versions
 * used: R 4.2.2 with survival 3.5.3 and nlme 3.1.162. The data are invented, drawn with fixed seeds.
 */

/** Apart by no more than a share of the expected value. */
const close = (value: number | Decimal | null | undefined, expected: number, share: number): void => {
  const found = Number(value ?? NaN);
  expect(Math.abs(found - expected), `${found} for ${expected}`).toBeLessThanOrEqual(
    share * Math.abs(expected),
  );
};

const decimals = (values: readonly number[]): Decimal[] => values.map((value) => new Decimal(value));

const sampleOf = (values: readonly number[]): Sample => {
  const { mean, sd } = meanAndDeviation(decimals(values));
  return { n: values.length, mean: mean.toNumber(), sd: sd?.toNumber() ?? NaN };
};

/** Exhausted cartridges with these yields, each list in a machine of its own. */
const cartridges = (machines: readonly (readonly number[])[], exhausted = true): PooledCartridge[] =>
  machines.flatMap((yields, index) =>
    yields.map((pages) => cartridge(pages, { machine: `machine ${index + 1}`, exhausted })),
  );

const confidence = (level: number, tail: Confidence['tail'] = 'one-sided'): Confidence => ({ level, tail });

test('the versions are those named here', () => {
  expect(reference.tool).toBe('R version 4.2.2 Patched (2022-11-10 r83330); survival 3.5.3; nlme 3.1.162');
});

describe('censored normal data: survival::survreg, dist = "gaussian"', () => {
  test.each(reference.censored)('$name', ({ exact, at_least, mean, sd }) => {
    const found = censoredNormal(exact, at_least);
    close(found?.mean, mean, 1e-10);
    close(found?.sd, sd, 1e-8);
  });

  test('shown beside the bounds of a group, and of no use where all are exhausted', () => {
    for (const { exact, at_least, mean } of reference.censored) {
      const all = [...cartridges([exact]), ...cartridges([at_least], false)];
      const { likelihood } = poolGroup(all, 'black', null, confidence(0.9), null, true);
      if (at_least.length === 0) expect(likelihood).toBeNull();
      else close(likelihood?.mean, mean, 1e-10);
    }
  });

  test('not to be had with fewer than two exhausted, or where these are alike', () => {
    expect(censoredNormal([10000], [9000, 9500])).toBeNull();
    expect(censoredNormal([], [9000, 9500])).toBeNull();
    expect(censoredNormal([10000, 10000], [9000])).toBeNull();
  });
});

describe('one-way random effects: mean squares of aov', () => {
  test.each(reference.random_effects)('$name', (row) => {
    const { between, within } = randomEffects(row.groups.map(decimals));
    close(within, row.within, 1e-12);
    if (row.between === 0) expect(between?.toFixed()).toBe('0');
    else close(between, row.between, 1e-12);
    // nlme::lme, restricted likelihood: the same where balanced and positive, to its own convergence.
    if (row.reml_between !== null) close(between, row.reml_between, 1e-5);
  });

  test.each(reference.random_effects)('$name: the bound over the means of the machines', (row) => {
    const bound = (one: Confidence): Decimal | null =>
      poolGroup(cartridges(row.groups), 'black', null, one, null, true).clusteredLowerBound;
    close(bound(confidence(0.9)), row.clustered_90, 1e-11);
    close(bound(confidence(0.95)), row.clustered_95, 1e-11);
    // The lower end of a two-sided 90 % interval is the one-sided 95 % bound.
    close(bound(confidence(0.9, 'two-sided')), row.clustered_95, 1e-11);
  });
});

describe('bounds of the mean: t.test', () => {
  test.each(reference.plain)('$values', (row) => {
    const bound = (one: Confidence): Decimal | null =>
      poolGroup(cartridges([row.values]), 'black', null, one, null, true).lowerBound;
    close(bound(confidence(0.9)), row.lower_one_sided_90, 1e-12);
    close(bound(confidence(0.95)), row.lower_one_sided_95, 1e-12);
    close(bound(confidence(0.9, 'two-sided')), row.lower_two_sided_90, 1e-12);
    close(bound(confidence(0.95, 'two-sided')), row.lower_two_sided_95, 1e-12);
    const { mean, sd } = poolGroup(cartridges([row.values]), 'black', null, confidence(0.9), null, true);
    close(mean, row.mean, 1e-14);
    close(sd, row.sd, 1e-13);
  });
});

describe('Grubbs’ critical values, two-sided: qt', () => {
  test.each(reference.grubbs)('n $n, α $alpha: $critical', ({ n, alpha, critical }) => {
    const values = decimals(Array.from({ length: n }, (_, index) => 10000 + index));
    close(grubbs(values, alpha)?.critical, critical, 1e-12);
  });
});

describe('two samples: t.test, the roots of Fieller’s quadratic, two one-sided t.tests', () => {
  test.each(reference.two_samples)('$name', (row) => {
    const [first, second] = [sampleOf(row.first), sampleOf(row.second)];
    const { t, freedom, interval, ratio } = welch(first, second, row.level);
    close(t, row.t, 1e-10);
    close(freedom, row.freedom, 1e-12);
    close(interval.low, row.difference_low, 1e-10);
    close(interval.high, row.difference_high, 1e-10);
    if (row.ratio_low === null) expect(ratio).toBeNull();
    else {
      close(ratio?.low, row.ratio_low, 1e-11);
      close(ratio?.high, row.ratio_high, 1e-11);
    }
    close(equivalence(first, second, row.margin), row.p, 1e-9);
  });
});

describe('tolerance factors: qt with ncp', () => {
  test.each(reference.tolerance)('n $n, confidence $confidence: $k', ({ n, share, confidence: level, k }) => {
    close(toleranceFactor(n, share, level), k, 1e-8);
  });

  // The command takes a confidence of up to 99.99 %.
  test.each(reference.tolerance_sharp)('n $n, confidence $confidence: $k', (row) => {
    close(toleranceFactor(row.n, row.share, row.confidence), row.k, 1e-6);
  });
});

describe('quantiles and functions', () => {
  test.each(reference.student)('qt($p, $df) = $t', ({ df, p, t }) => {
    close(studentQuantile(p, df), t, 1e-11);
  });

  test.each(reference.normal)('qnorm($p) = $z', ({ p, z }) => {
    expect(Math.abs(normalQuantile(p) - z)).toBeLessThanOrEqual(1e-12 * Math.max(1, Math.abs(z)));
  });

  test.each(reference.log_gamma)('lgamma($x) = $value', ({ x, value }) => {
    expect(Math.abs(logGamma(x) - value)).toBeLessThanOrEqual(1e-13 * Math.max(1, Math.abs(value)));
  });

  test.each(reference.binomial_upper)('binom.test: $k of $n, $confidence: up to $upper', (row) => {
    close(binomialUpper(row.k, row.n, row.confidence), row.upper, 1e-9);
  });
});
