import { normalHazard } from './normal.ts';
import { sumOf } from './sample.ts';

/** Mean and deviation of a normal population by maximum likelihood. */
export interface Estimate {
  readonly mean: number;
  /** With divisor n, as maximum likelihood has it. */
  readonly sd: number;
}

/**
 * Maximum likelihood for normal data of which some are known only to be at least so much, by the EM
 * iteration: what is not known is replaced by its expectation, then mean and deviation are taken anew
 * (Dempster, Laird and Rubin, JRSS B 39 (1977) 1–38; the normal case after Wolynetz, AS 138, from memory).
 * Null with fewer than two exact values, or where they are all alike.
 */
export function censoredNormal(exact: readonly number[], atLeast: readonly number[]): Estimate | null {
  const n = exact.length + atLeast.length;
  const [least, most] = [Math.min(...exact), Math.max(...exact)];
  if (!(least < most)) return null;
  let [mean, sd] = [most, most - least];
  for (let step = 0; step < 100_000; step++) {
    const expected = atLeast.map((x) => {
      const z = (x - mean) / sd;
      const hazard = normalHazard(z);
      return { value: mean + sd * hazard, variance: sd * sd * (1 + z * hazard - hazard * hazard) };
    });
    const next = (sumOf(exact) + sumOf(expected.map(({ value }) => value))) / n;
    const squares =
      sumOf(exact.map((x) => (x - next) ** 2)) +
      sumOf(expected.map(({ value, variance }) => (value - next) ** 2 + variance));
    const deviation = Math.sqrt(squares / n);
    const moved = Math.hypot(next - mean, deviation - sd);
    [mean, sd] = [next, deviation];
    if (moved <= 1e-13 * Math.abs(mean)) break;
  }
  return { mean, sd };
}
