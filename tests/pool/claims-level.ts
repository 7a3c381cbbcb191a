import { poolGroup } from '../../src/pool/group.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import type { Random } from '../fuzz/random.ts';
import { cartridge } from './cartridge.ts';

/**
 * How often a claim equal to the true mean is called supported, and how often refused, over simulated sets of nine
 * cartridges in three machines. The coverage is off by one unknown amount, the same in all of a set and within its
 * tolerance (rectangular); machines and cartridges scatter normally. Both should happen in at most one set in ten.
 */
export interface Setting {
  /** Standard deviations between machines and between cartridges, and half-width of the coverage's tolerance, in pages. */
  readonly machines: number;
  readonly cartridges: number;
  readonly coverage: number;
  /** Runs are stopped at the claimed yield. */
  readonly stopped: boolean;
}

const TRUE_MEAN = 10_000;

export function claimRates(
  sets: number,
  random: Random,
  setting: Setting,
): { supported: number; refused: number } {
  const { machines, cartridges, coverage, stopped } = setting;
  let [supported, refused] = [0, 0];
  for (let set = 0; set < sets; set++) {
    const off = coverage * (2 * random.next() - 1);
    const fitted = ['Teal', 'Wren', 'Heron'].flatMap((machine) => {
      const ofMachine = machines * random.normal();
      return [1, 2, 3].map(() => {
        const pages = TRUE_MEAN + ofMachine + cartridges * random.normal();
        const seen = stopped ? Math.min(pages, TRUE_MEAN) : pages;
        return cartridge((seen + off).toFixed(3), {
          machine,
          exhausted: !stopped || pages <= TRUE_MEAN,
          coverageU: coverage / Math.sqrt(3),
        });
      });
    });
    const confidence = { level: 0.9, tail: 'one-sided' } as const;
    const { claim } = poolGroup(fitted, 'black', null, confidence, new Decimal(TRUE_MEAN), false);
    if (claim?.supported === true) supported += 1;
    if (claim?.supported === false) refused += 1;
  }
  return { supported: supported / sets, refused: refused / sets };
}

export const SETTINGS: readonly Setting[] = [
  { machines: 0, cartridges: 200, coverage: 0, stopped: false },
  { machines: 200, cartridges: 200, coverage: 0, stopped: false },
  { machines: 0, cartridges: 200, coverage: 200, stopped: false },
  { machines: 200, cartridges: 200, coverage: 400, stopped: false },
  { machines: 50, cartridges: 100, coverage: 1000, stopped: false },
  { machines: 0, cartridges: 200, coverage: 0, stopped: true },
  { machines: 100, cartridges: 200, coverage: 400, stopped: true },
];
