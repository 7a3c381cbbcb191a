import type { Assessed } from '../judge/assess.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import {
  broughtBack,
  carried,
  type CarriedCartridge,
  cartridgesOf,
  type LeftOut,
  type PooledCartridge,
  twice,
} from './cartridge.ts';
import { type Apart, type Confidence, type Group, groupsOf, poolGroup } from './group.ts';
import { oddNames } from './names.ts';
import type { Pooled } from './pooled.ts';
import { type TrendPoint, trendOf, trendPoint } from './trend.ts';

/** A figure to follow over the trials, of one part or of the whole. */
export interface Followed {
  readonly figure: string;
  readonly of: string | null;
}

/** What pooling keeps of one judged trial: plain data. */
export interface Taken {
  readonly file: string;
  readonly cartridges: readonly CarriedCartridge[];
  readonly leftOut: readonly LeftOut[];
  /** Reference coverage in percent. */
  readonly coverage: string;
  /** The claim it plans for, in pages. */
  readonly claim: string | null;
  readonly point: TrendPoint | null;
}

/** What pooling keeps of a judged trial. */
export function takenFrom(result: Assessed, followed: Followed | null): Taken {
  const { pooled, leftOut } = cartridgesOf(result);
  return {
    file: result.file,
    cartridges: pooled.map(carried),
    leftOut,
    coverage: result.agreed.referenceCoverage.toFixed(),
    claim: result.trial.data.target?.claim?.value.toString() ?? null,
    point: followed && trendPoint(result, followed.figure, followed.of),
  };
}

/** What pooling keeps of judged trials, so that a trial can be let go once it is taken in. */
export class Gathered {
  readonly cartridges: PooledCartridge[] = [];
  readonly leftOut: LeftOut[] = [];
  readonly points: TrendPoint[] = [];
  /** Claims the trials plan for, each once. */
  readonly claims: Decimal[] = [];
  /** The first file of each reference coverage. */
  readonly coverages = new Map<string, string>();

  constructor(readonly followed: Followed | null) {}

  take(result: Assessed): void {
    this.add(takenFrom(result, this.followed));
  }

  add({ file, cartridges, leftOut, coverage, claim, point }: Taken): void {
    this.cartridges.push(...cartridges.map(broughtBack));
    this.leftOut.push(...leftOut);
    if (!this.coverages.has(coverage)) this.coverages.set(coverage, file);
    if (claim !== null && !this.claims.some((other) => other.eq(claim))) this.claims.push(new Decimal(claim));
    if (point) this.points.push(point);
  }
}

/** Why trials do not pool: their reference coverages differ, or one cartridge is in two of them. */
export type Mixture =
  | { readonly kind: 'coverages'; readonly of: readonly [[string, string], [string, string]] }
  | { readonly kind: 'twice'; readonly cartridges: readonly [PooledCartridge, PooledCartridge] };

/** What keeps what was gathered from being pooled or compared; null where nothing does. */
export function mixtureIn(gathered: readonly Gathered[]): Mixture | null {
  const coverages = gathered.flatMap((one) => [...one.coverages]);
  const [first] = coverages;
  const second = coverages.find(([coverage]) => coverage !== first?.[0]);
  if (first && second) return { kind: 'coverages', of: [first, second] };
  const again = twice(gathered.flatMap(({ cartridges }) => cartridges));
  return again && { kind: 'twice', cartridges: again };
}

/** How cartridges are pooled and what is claimed of them. */
export interface PoolingRule {
  /** What is kept apart beside the slots. */
  readonly by: Apart | null;
  readonly confidence: Confidence;
  /** The claim in pages; where none is given, the one that all trials plan for. */
  readonly claim: Decimal | null;
  /** Whether few cartridges or machines, or failures, are enough for a claim. */
  readonly few: boolean;
}

/** A group with the cartridges in it. */
export type GroupOfCartridges = readonly [group: Group, cartridges: readonly PooledCartridge[]];

const DEFAULT_COVERAGE = '5';

/** The cartridges in groups by slot (and lot), and everything that is said of them together. */
export function pooledFrom(
  own: Gathered,
  { by, confidence, claim: given, few }: PoolingRule,
): {
  readonly pooled: Pooled;
  readonly groups: readonly GroupOfCartridges[];
  readonly claim: Decimal | null;
} {
  const [planned, ...others] = given === null ? own.claims : [];
  const claim = given ?? (others.length === 0 ? (planned ?? null) : null);
  const groups = groupsOf(own.cartridges, by).map(
    ({ slot, inCommon, cartridges }) =>
      [poolGroup(cartridges, slot, inCommon, confidence, claim, few), cartridges] as const,
  );
  const [coverage = DEFAULT_COVERAGE] = own.coverages.keys();
  const pooled: Pooled = {
    referenceCoverage: new Decimal(coverage),
    groups: groups.map(([group]) => group),
    leftOut: own.leftOut,
    against: [],
    trend: own.followed && trendOf(own.followed.figure, own.followed.of, own.points),
    claims: given === null && others.length > 0 ? own.claims : [],
    oddNames: oddNames(own.cartridges),
  };
  return { pooled, groups, claim };
}
