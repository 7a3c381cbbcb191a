import type { Problem } from '../../problems/problem.ts';
import type { Source } from '../../text/source.ts';
import type { Path } from '../../uncertainty/path.ts';
import { inFileOrder, parse, READABLE } from '../read.ts';
import { rangeFaults } from '../rules/coverage.ts';
import { type UsageData, usageSchema } from '../schema/usage.ts';
import type { Usage } from './usage.ts';

/** A usage file from its source, or everything that is wrong with it. */
export function readUsage(source: Source): {
  readonly usage: Usage | null;
  readonly problems: readonly Problem[];
} {
  if (source.problems.some(({ code }) => !READABLE.has(code)))
    return { usage: null, problems: source.problems };
  const { data: parsed, problems: shape } = parse(usageSchema, [], source.data);
  const amiss = parsed === null || shape.length > 0 ? [] : amissIn(parsed as UsageData);
  const problems = inFileOrder([...source.problems, ...shape, ...amiss], source);
  if (parsed === null || problems.length > 0) return { usage: null, problems };
  const { model, machines, slots } = (parsed as UsageData).usage;
  return {
    usage: {
      model: model ?? null,
      machines: (machines ?? []).filter((one) => one !== ''),
      slots: slots.map(({ slot, m0, u_m0: u, cartridges, from, to }) => ({
        slot: slot ?? null,
        m0: m0.value,
        u: u.value,
        cartridges: cartridges?.value ?? null,
        from: from?.value ?? null,
        to: to?.value ?? null,
      })),
    },
    problems: [],
  };
}

/** What no fit can have found. */
function amissIn({ usage: { slots } }: UsageData): Problem[] {
  const place: Path = ['usage', 'slots'];
  if (slots.length === 0) return [{ code: 'usage-amiss', what: 'no-slots', path: place }];
  return slots.flatMap(({ slot, from, to }, index): Problem[] => {
    const earlier = slots.slice(0, index).some((one) => (one.slot ?? null) === (slot ?? null));
    return [
      ...(earlier
        ? [{ code: 'usage-amiss', what: 'slot-twice', path: [...place, index, 'slot'] } as const]
        : []),
      ...rangeFaults({ from, to }, [...place, index]),
    ];
  });
}
