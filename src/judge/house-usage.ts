import type { Trial } from '../trial/trial.ts';
import { type Usage, usageOf } from '../trial/usage/usage.ts';
import { Measured } from '../uncertainty/measured.ts';
import type { Path } from '../uncertainty/path.ts';

/** Where a value stands that limits name a file for. */
const PATH: Path = ['limits', 'non_image_usage'];

/**
 * A trial with the toner at no coverage that its limits name a file for, where it gives none itself. The reference is
 * another consumable, of which the file says nothing.
 */
export function withHouseUsage(trial: Trial, usage: Usage | null): Trial {
  if (usage === null || trial.data.non_image_usage != null) return trial;
  const { run } = trial;
  const single = new Set(run.cartridges.map(({ slot }) => slot)).size === 1;
  return {
    ...trial,
    run: {
      ...run,
      nonImageUsage: (slot) => {
        const found = usageOf(usage, slot, single);
        if (found === null) return null;
        const { m0, u, from, to } = found;
        const path = slot === null ? PATH : [...PATH, slot];
        const inputs = u.isZero() ? [] : [{ path, value: m0, unit: 'mg', u }];
        return { path, measured: Measured.reading(m0, inputs, path), tried: from && to && { from, to } };
      },
    },
  };
}
