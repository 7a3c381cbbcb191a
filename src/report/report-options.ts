import type { InkDevice } from '../forecast/mix.ts';
import type { LotRule } from '../lot/rule.ts';
import type { Confidence } from '../pool/group.ts';

/** What `report` may be told on the command line, as commander names it. */
export interface ReportOptions {
  readonly format: 'html' | 'md';
  readonly output?: string;
  readonly force?: boolean;
  readonly limits?: readonly string[];
  readonly letterhead?: string;
  readonly number?: string;
  readonly revision?: string;
  readonly issued?: string;
  readonly data?: boolean;
  readonly each?: boolean;
  readonly internal?: boolean;
  readonly byLot?: boolean;
  readonly few?: boolean;
  readonly confidence?: string;
  readonly tail: Confidence['tail'];
  readonly claim?: string;
  readonly rule: LotRule['kind'];
  readonly trend?: string;
  readonly of?: string;
  readonly mix?: string;
  readonly countedBy?: InkDevice;
  readonly pagesPerMonth?: string;
  readonly beyond?: boolean;
}
