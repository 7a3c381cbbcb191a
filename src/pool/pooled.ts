import type { Decimal } from '../uncertainty/decimal.ts';
import type { Against } from './against.ts';
import type { LeftOut } from './cartridge.ts';
import type { Group } from './group.ts';
import type { OddName } from './names.ts';
import type { Trend } from './trend.ts';

/** Everything a pooling came to. */
export interface Pooled {
  /** % of the page */
  readonly referenceCoverage: Decimal;
  readonly groups: readonly Group[];
  readonly leftOut: readonly LeftOut[];
  readonly against: readonly Against[];
  readonly trend: Trend | null;
  /** The claims that trials plan for, where they do not agree on one; else none. */
  readonly claims: readonly Decimal[];
  readonly oddNames: readonly OddName[];
}
