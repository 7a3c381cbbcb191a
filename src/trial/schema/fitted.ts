import type { Catalogue } from '../catalogue.ts';
import type { Data } from '../../text/source.ts';
import { type Mentions, type Standing, STANDINGS } from './leaf.ts';
import type * as z from './zod.ts';

/** Makes the schema of a kind of file, as far as it mentions keys. */
export type Maker = (mentions: Mentions, catalogue: Catalogue) => z.Schema;

/** What stands under each key, as a sum of bits. */
type Known = Map<string, number>;

const BIT: Readonly<Record<Standing, number>> = { value: 1, map: 2, list: 4, nothing: 8 };
const ANY = STANDINGS.reduce((sum, standing) => sum + BIT[standing], 0);

const standingOf = (data: Data): Standing =>
  data === null ? 'nothing' : typeof data === 'string' ? 'value' : Array.isArray(data) ? 'list' : 'map';

/**
 * The schema of a kind of file, as far as the files read so far need it: building the whole is most of what
 * reading one small file costs. Where a file mentions what was left out, it is made anew, and with that.
 *
 * What it takes, the whole schema takes, and to the same end. What it refuses, it cannot say why: it does
 * not know every key that could have been meant.
 */
export class FittedSchema {
  private readonly known: Known = new Map();
  private readonly leftOut: Known = new Map();
  private schema: z.Schema | null = null;

  constructor(
    private readonly make: Maker,
    private readonly catalogue: Catalogue,
  ) {}

  for(data: Data): z.Schema {
    if (this.schema !== null && !this.lacks(data)) return this.schema;
    this.learn(data);
    this.leftOut.clear();
    return (this.schema = this.make((key, standing) => this.mentions(key, standing), this.catalogue));
  }

  private mentions(key: string, standing?: Standing): boolean {
    const asked = standing === undefined ? ANY : BIT[standing];
    if (((this.known.get(key) ?? 0) & asked) !== 0) return true;
    this.leftOut.set(key, (this.leftOut.get(key) ?? 0) | asked);
    return false;
  }

  /** Whether something stands in the data that was left out of the schema. */
  private lacks(data: Data): boolean {
    return anyEntry(data, '', (key, standing) => ((this.leftOut.get(key) ?? 0) & BIT[standing]) !== 0);
  }

  private learn(data: Data): void {
    anyEntry(data, '', (key, standing) => {
      this.known.set(key, (this.known.get(key) ?? 0) | BIT[standing]);
      return false;
    });
  }
}

/** Whether a test holds for anything in the data: for what stands under a key, and under `key[]` in its list. */
function anyEntry(data: Data, under: string, test: (key: string, standing: Standing) => boolean): boolean {
  if (data === null || typeof data === 'string') return false;
  if (Array.isArray(data)) {
    const name = `${under}[]`;
    return data.some((entry) => test(name, standingOf(entry)) || anyEntry(entry, name, test));
  }
  for (const key in data) {
    const entry = data[key] ?? null;
    if (test(key, standingOf(entry)) || anyEntry(entry, key, test)) return true;
  }
  return false;
}
