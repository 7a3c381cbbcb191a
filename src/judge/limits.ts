import { figureKey } from '../figures/figure.ts';
import { type Catalogue, type Effect, EFFECT_OF, type FigureEntry, type Stat } from '../trial/catalogue.ts';
import type { Problem } from '../problems/problem.ts';
import type {
  LimitData,
  LimitsData,
  LimitSetData,
  PrecisionData,
  PrecisionEntry,
} from '../trial/schema/limits.ts';
import { grouped } from '../trial/grouped.ts';
import type { Usage } from '../trial/usage/usage.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import type { Path } from '../uncertainty/path.ts';

/** Where a set of limits comes from: the trial itself, or a file or preset by its name. */
export type Origin =
  { readonly kind: 'inline' } | { readonly kind: 'file' | 'preset'; readonly name: string };

/** What one figure must keep to. */
export interface Limit {
  readonly figure: FigureEntry;
  readonly of: string | null;
  readonly stat: Stat | null;
  readonly min: Decimal | null;
  readonly max: Decimal | null;
  /** Of money, the currency it is in. */
  readonly currency: string | null;
  readonly effect: Effect;
  readonly origin: Origin;
  /** Where it stands in the file it comes from. */
  readonly path: Path;
}

/** Where a limit stands in the trial; one of a file or preset has no place there. */
export const placeOf = ({ origin, path }: Limit): Path => (origin.kind === 'inline' ? path : []);

/** How a value is held against a limit (ILAC-G8:09/2019, 4.2): as it is, or with a guard band. */
export interface Decision {
  readonly rule: 'simple' | 'guarded';
  /** Width of the guard band in standard uncertainties. */
  readonly factor: Decimal;
  /** How figures scatter over repeated trials, as far as it is known. */
  readonly precision: readonly Precision[];
}

/** How a figure scatters over repeated trials of one lot. */
export interface Precision {
  readonly figure: string;
  /** The slot or patch it is of; null of every one. */
  readonly of: string | null;
  /** Standard deviation, in the unit of the figure. */
  readonly sd: Decimal;
  /** Degrees of freedom of it, at least 1. */
  readonly freedom: number;
}

/** One set of limits, before it is merged with others; what it does not say is null. */
export interface LimitLayer {
  readonly limits: readonly Limit[];
  readonly rule: Decision['rule'] | null;
  readonly factor: Decimal | null;
  readonly precision: readonly Precision[];
  /** % of the page */
  readonly referenceCoverage: Decimal | null;
  /** Toner a page at no coverage, for trials that do not give it themselves. */
  readonly nonImageUsage: Usage | null;
}

/** The limits a trial is judged by. */
export interface Agreed {
  readonly limits: readonly Limit[];
  readonly decision: Decision;
  /** % of the page */
  readonly referenceCoverage: Decimal;
  /** Toner a page at no coverage, for trials that do not give it themselves; null where no limits name it. */
  readonly nonImageUsage: Usage | null;
}

/** What stands under `limits` in a trial, in order: sets, and names of files or presets. */
export function partsOf(
  limits: LimitsData | null,
): readonly (
  { readonly name: string; readonly path: Path } | { readonly set: LimitSetData; readonly path: Path }
)[] {
  if (limits === null) return [];
  const one = (part: string | LimitSetData, path: Path) =>
    typeof part === 'string' ? { name: part, path } : { set: part, path };
  return Array.isArray(limits)
    ? (limits as readonly (string | LimitSetData)[]).map((part, index) => one(part, ['limits', index]))
    : [one(limits as string | LimitSetData, ['limits'])];
}

/** A file's name ends so; any other name is a preset's. */
export const isFileName = (name: string): boolean => /\.ya?ml$/i.test(name);

/**
 * A layer from a set as read, and what is wrong with its limits. `path` is where the set stands. The usage file that it
 * may name is whoever's to open who opens files.
 */
export function layerOf(
  set: LimitSetData,
  origin: Origin,
  path: Path,
  catalogue: Catalogue,
): { readonly layer: LimitLayer; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const limits = catalogue.flatMap((figure) => {
    const data = set[figure.name] as LimitData | readonly LimitData[] | null | undefined;
    if (data == null) return [];
    const at = [...path, figure.name];
    const list = Array.isArray(data)
      ? (data as readonly LimitData[]).map((one, index) => [one, [...at, index]] as const)
      : [[data as LimitData, at] as const];
    return list.map(([limit, where]) => {
      problems.push(...faultsOf(limit, figure, where));
      return {
        figure,
        of: limit.of ?? null,
        stat: limit.stat ?? null,
        min: limit.min?.value ?? null,
        max: limit.max?.value ?? null,
        currency: limit.min?.currency ?? limit.max?.currency ?? null,
        effect: limit.effect ?? (limit.weight ? EFFECT_OF[limit.weight] : figure.effect),
        origin,
        path: where,
      };
    });
  });
  return {
    layer: {
      limits,
      rule: set.decision?.rule ?? null,
      factor: set.decision?.factor?.value ?? null,
      precision: precisionIn(set.decision?.precision ?? {}),
      referenceCoverage: set.reference_coverage?.value ?? null,
      nonImageUsage: null,
    },
    problems,
  };
}

function precisionIn(data: PrecisionData): Precision[] {
  return Object.entries(data).flatMap(([figure, one]) => {
    const list =
      one == null ? [] : Array.isArray(one) ? (one as readonly PrecisionEntry[]) : [one as PrecisionEntry];
    return list.flatMap(({ of, sd, degrees_of_freedom: freedom }) =>
      sd == null || freedom == null
        ? []
        : [{ figure, of: of ?? null, sd: sd.value, freedom: freedom.value.toNumber() }],
    );
  });
}

function faultsOf(
  { min, max, of, stat, effect, weight }: LimitData,
  figure: FigureEntry,
  path: Path,
): Problem[] {
  const problems: Problem[] = [];
  if (effect && weight) problems.push({ code: 'effect-twice', path: [...path, 'weight'] });
  if (!min && !max) problems.push({ code: 'limit-without-bound', path });
  if (min && max && min.value.gt(max.value)) {
    problems.push({ code: 'limit-reversed', min: min.text, max: max.text, path: [...path, 'max'] });
  }
  if (min?.currency !== undefined && max?.currency !== undefined && min.currency !== max.currency) {
    problems.push({
      code: 'limit-in-two-currencies',
      min: min.currency,
      max: max.currency,
      path: [...path, 'max'],
    });
  }
  const parted = figure.per !== 'trial' && figure.per !== 'readings';
  if (of != null && (!parted || (of === 'total' && !figure.total) || stat != null)) {
    problems.push({ code: 'limit-of-whole-figure', figure: figure.name, path: [...path, 'of'] });
  }
  if (stat != null && !figure.stats.includes(stat)) {
    const known = figure.stats;
    problems.push({ code: 'limit-without-stat', figure: figure.name, stat, known, path: [...path, 'stat'] });
  }
  return problems;
}

const SIMPLE = { rule: 'simple', factor: new Decimal(2) } as const;
const REFERENCE_COVERAGE = new Decimal(5);

/**
 * Layers laid over each other, later ones winning: a limit on the same figure, of and stat replaces the
 * earlier one whole; of one layer all hold. The decision is merged key by key.
 */
export function merge(layers: readonly LimitLayer[]): Agreed {
  const merged = new Map<string, readonly Limit[]>();
  for (const { limits } of layers)
    for (const [key, like] of grouped(limits, figureKey)) merged.set(key, like);
  const precision = new Map<string, Precision>();
  for (const one of layers.flatMap((layer) => layer.precision))
    precision.set(JSON.stringify([one.figure, one.of]), one);
  const last = <K extends keyof LimitLayer>(key: K): LimitLayer[K] | undefined =>
    layers.findLast((layer) => layer[key] !== null)?.[key];
  return {
    limits: [...merged.values()].flat(),
    decision: {
      rule: last('rule') ?? SIMPLE.rule,
      factor: last('factor') ?? SIMPLE.factor,
      precision: [...precision.values()],
    },
    referenceCoverage: last('referenceCoverage') ?? REFERENCE_COVERAGE,
    nonImageUsage: last('nonImageUsage') ?? null,
  };
}
