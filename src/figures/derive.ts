import type { Stat } from '../trial/catalogue.ts';
import type { Run } from '../trial/trial.ts';
import type { Measured } from '../uncertainty/measured.ts';
import { NotDerived, type Reason } from '../uncertainty/not-derived.ts';
import { type Derived, type Figure, isDerived, type Settings } from './figure.ts';
import { greatestOf, leastOf, leastWithBounds, meanOf } from './statistics.ts';

/** Every figure of the list for a run, in order: each with its value or the reason why it has none. */
export function deriveAll(figures: readonly Figure[], run: Run, settings: Settings): readonly Derived[] {
  return figures.flatMap((figure) => derive(figure, run, settings));
}

function derive(figure: Figure, run: Run, settings: Settings): Derived[] {
  const entry = (of: string | null, stat: Stat | null, result: Measured | Reason): Derived => ({
    figure,
    of,
    stat,
    result,
  });
  switch (figure.per) {
    case 'trial':
      return [
        entry(
          null,
          null,
          attempt(() => figure.derive(run, settings)),
        ),
      ];
    case 'cartridge': {
      const each = run.cartridges.map((cartridge) =>
        entry(
          cartridge.name,
          null,
          attempt(() => figure.derive(cartridge, run, settings)),
        ),
      );
      if (!figure.least) return each;
      const results = each.map(({ result }) => result);
      const missing = results.find((result): result is Reason => !isDerived(result));
      return [
        ...each,
        entry(null, 'least', missing ?? attempt(() => leastWithBounds(results.filter(isDerived)))),
      ];
    }
    case 'readings': {
      const readings = attempt(() => figure.derive(run));
      if ('code' in readings) {
        return (['least', 'greatest', 'mean'] as const).map((stat) => entry(null, stat, readings));
      }
      const values = readings.map(({ measured }) => measured);
      return [
        entry(null, 'least', leastOf(values)),
        entry(null, 'greatest', greatestOf(values)),
        entry(null, 'mean', meanOf(readings)),
      ];
    }
  }
}

/** The one place where a formula's refusal becomes a reason. */
function attempt<T>(formula: () => T): T | Reason {
  try {
    return formula();
  } catch (refusal) {
    if (refusal instanceof NotDerived) return refusal.reason;
    throw refusal;
  }
}
