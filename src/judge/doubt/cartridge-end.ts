import type { Cartridge, Run } from '../../trial/trial.ts';
import { unlistedCartridge } from '../../figures/changes.ts';
import { runsOf } from '../facts.ts';
import { type Contradiction, type DoubtRule, taken } from './doubt.ts';

/** So few pages may be printed to look at a machine that has stopped; common practice, no source. */
const FEW_PAGES = 100;

/** It stopped the machine, or was taken out, and the file lists none fitted in its slot after it. */
function leftEmpty(cartridge: Cartridge, run: Run, data: CartridgeEnd | undefined): boolean {
  const later = run.cartridges.slice(run.cartridges.indexOf(cartridge) + 1);
  if (later.some(({ slot }) => slot === cartridge.slot)) return false;
  if (unlistedCartridge(run, cartridge.slot) !== null) return false;
  return data?.removed_at != null || data?.exhausted_by === 'stop';
}

interface CartridgeEnd {
  readonly removed_at?: object | null | undefined;
  readonly exhausted_by?: string | null | undefined;
}

/** No pages come from a slot whose cartridge stopped the machine or was taken out, with nothing fitted after it. */
export const slotNotEmpty: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) => {
    const data = run.path.length === 0 ? facts.trial.data : facts.trial.data.reference;
    return run.cartridges.flatMap((cartridge, index): Contradiction[] => {
      const [to, end] = [cartridge.to.measured?.value, run.meter.end.measured?.value];
      if (!to || !end || !leftEmpty(cartridge, run, data?.cartridges?.[index])) return [];
      const pages = end.minus(to).div(run.meter.clicksPerPage);
      if (pages.lte(FEW_PAGES)) return [];
      const fault = {
        code: 'pages-after-cartridge',
        slot: cartridge.name ?? '',
        pages: pages.toFixed(0),
        at: to.toFixed(),
      } as const;
      return [{ fault, path: cartridge.to.path, readings: taken(cartridge.to) }];
    });
  });
