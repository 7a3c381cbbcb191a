import { meanCoverageOf } from '../../figures/mean-coverage.ts';
import { pagesOfCartridge } from '../../figures/yield.ts';
import { brief } from '../../uncertainty/decimal.ts';
import { ifDerived } from '../../uncertainty/not-derived.ts';
import { runsOf, valueOf } from '../facts.ts';
import { type Contradiction, type DoubtRule, taken } from './doubt.ts';

/** Toner drawn for a covered square centimetre, in mg: no print takes less; common practice, no source. */
export const LEAST_PER_AREA = 0.1;

/** Pages take toner: a cartridge that printed is lighter by what its coverage takes at least. */
export const tonerTaken: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run, figures }) =>
    run.cartridges.flatMap((cartridge): Contradiction[] => {
      const { name, startMass, endMass } = cartridge;
      const usage = valueOf(figures, 'usage_per_area', name);
      const coverage = ifDerived(() => meanCoverageOf(cartridge, run));
      if (usage === null || usage.bound === 'at_least' || coverage === null) return [];
      if (usage.value.plus(usage.u.times(2)).gte(LEAST_PER_AREA)) return [];
      const fault = {
        code: 'usage-implausible',
        slot: name ?? '',
        usage: usage.value.toSignificantDigits(3).toFixed(),
      } as const;
      return [{ fault, path: endMass.path, readings: [...taken(startMass, endMass), coverage.path] }];
    }),
  );

/** Pages printed before took at least this share of what a page of the run took; common practice, no source. */
const LEAST_OF_BEFORE = 0.5;

/** What a cartridge took in the run and before it was filled in. */
export const beforeWithinFill: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) =>
    run.cartridges.flatMap((cartridge): Contradiction[] => {
      const { startMass, endMass, fillMass, usedBefore, name, path } = cartridge;
      if (!startMass.measured || !endMass.measured || !fillMass.measured || !usedBefore) return [];
      const [pages, coverage] = [
        ifDerived(() => pagesOfCartridge(cartridge, run)),
        ifDerived(() => meanCoverageOf(cartridge, run)),
      ];
      if (pages === null || pages.value.isZero()) return [];
      const share = usedBefore.coverage && coverage ? usedBefore.coverage.value.div(coverage.mean.value) : 1;
      const used = startMass.measured.minus(endMass.measured);
      const before = used.times(usedBefore.pages.value.div(pages.value).times(share).times(LEAST_OF_BEFORE));
      const over = used.plus(before).minus(fillMass.measured);
      // More than was filled in in the run alone is told of the masses.
      if (over.value.lte(over.u.times(2)) || used.value.gt(fillMass.measured.value)) return [];
      const fault = {
        code: 'used-before-beyond-fill',
        slot: name ?? '',
        pages: brief(usedBefore.pages.value),
        used: brief(used.value),
        fill: brief(fillMass.measured.value),
      } as const;
      const said = [...path, 'used_before'];
      return [{ fault, path: said, readings: [said, ...taken(startMass, endMass, fillMass)] }];
    }),
  );
