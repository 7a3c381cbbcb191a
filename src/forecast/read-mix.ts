import type { Problem } from '../problems/problem.ts';
import type { Source } from '../text/source.ts';
import type { Quantity } from '../trial/quantity.ts';
import { inFileOrder, parse, READABLE } from '../trial/read.ts';
import { type MixData, mixSchema } from '../trial/schema/mix.ts';
import { coverageFaults } from '../trial/rules/coverage.ts';
import { ZERO } from '../uncertainty/decimal.ts';
import type { Kind, KindCoverage, Mix } from './mix.ts';

type KindData = MixData['kinds'][number];
type CoverageValue = Quantity | { value: Quantity | null; tolerance?: Quantity | null };

/** A mix from its file, or everything that is wrong with it. */
export function readMix(source: Source): { readonly mix: Mix | null; readonly problems: readonly Problem[] } {
  const blocked = source.problems.some(({ code }) => !READABLE.has(code));
  if (blocked) return { mix: null, problems: source.problems };
  const { data: parsed, problems: shape } = parse(mixSchema, [], source.data);
  const data = parsed as MixData | null;
  const before = [...source.problems, ...shape];
  const rules =
    before.length > 0 || data === null ? [] : [...sharesAddUp(data), ...toldApart(data), ...tolerances(data)];
  const problems = inFileOrder([...before, ...rules], source);
  if (data === null || problems.length > 0) return { mix: null, problems };
  const mix: Mix = {
    file: source.file,
    name: data.mix ?? null,
    kinds: data.kinds.map(kindOf),
    countedBy: null,
  };
  return { mix, problems: [] };
}

/** The shares are of all pages. */
function sharesAddUp({ kinds }: MixData): Problem[] {
  const sum = kinds.reduce((all, { share }) => all.plus(share.value), ZERO);
  return sum.eq(100) ? [] : [{ code: 'shares-amiss', sum: sum.toFixed(), path: ['kinds'] }];
}

/** A kind stands there once. */
function toldApart({ kinds }: MixData): Problem[] {
  return kinds.flatMap(({ kind }, index): Problem[] =>
    kinds.findIndex((other) => other.kind === kind) === index
      ? []
      : [{ code: 'kind-twice', kind, path: ['kinds', index, 'kind'] }],
  );
}

/** A tolerance is no more than the coverage it belongs to. */
function tolerances({ kinds }: MixData): Problem[] {
  return kinds.flatMap(({ coverage }, index) => coverageFaults(coverage, ['kinds', index, 'coverage']));
}

function kindOf({ kind, share, coverage }: KindData): Kind {
  const coverages = new Map<string | null, KindCoverage>();
  const put = (slot: string | null, value: CoverageValue | null): void => {
    const percent = value === null ? null : 'resolution' in value ? value : value.value;
    if (percent === null) return;
    const tolerance = value !== null && 'tolerance' in value ? value.tolerance : null;
    const half = tolerance?.value.toNumber() ?? 0;
    coverages.set(slot, { value: percent.value.toNumber(), u: half / Math.sqrt(3) });
  };
  if ('resolution' in coverage || 'value' in coverage) put(null, coverage as CoverageValue);
  else {
    for (const [slot, value] of Object.entries(coverage as Record<string, CoverageValue | null>))
      put(slot, value);
  }
  return { name: kind, share: share.value.div(100).toNumber(), coverages };
}
