import { unlistedCartridge } from '../../figures/changes.ts';
import { afterIn, FEW_PAGES, leftAt } from '../../figures/run-to-end.ts';
import { runsOf } from '../facts.ts';
import { type Contradiction, type DoubtRule, taken } from './doubt.ts';

/** No pages come from a slot whose cartridge stopped the machine or was taken out, until the next one is fitted. */
export const slotNotEmpty: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) =>
    run.cartridges.flatMap((cartridge): Contradiction[] => {
      const [left, next] = [leftAt(cartridge), afterIn(cartridge, run)];
      const until = next === null ? run.meter.end : next.from;
      const [from, to] = [left?.measured?.value, until.measured?.value];
      if (!left || !from || !to || unlistedCartridge(run, cartridge.slot) !== null) return [];
      const pages = to.minus(from).div(run.meter.clicksPerPage);
      if (pages.lte(FEW_PAGES)) return [];
      const slot = cartridge.name ?? '';
      if (next === null) {
        const fault = {
          code: 'pages-after-cartridge',
          slot,
          pages: pages.toFixed(0),
          at: from.toFixed(),
        } as const;
        return [{ fault, path: left.path, readings: taken(left) }];
      }
      const fault = {
        code: 'slot-empty',
        slot: cartridge.slot ?? '',
        from: from.toFixed(),
        to: to.toFixed(),
      } as const;
      return [{ fault, path: until.path, readings: taken(left, until) }];
    }),
  );
