import { twice } from '../pool/cartridge.ts';
import type { Assessed } from '../judge/assess.ts';
import { speaksOf } from '../trial/lot.ts';
import { type Agreement, agreementOf } from './terms.ts';
import { type Tried, triedOf } from './tried.ts';

/** Something a trial says of its lot, and the trial that says it. */
export interface SaidOfLot<T> {
  readonly value: T;
  readonly file: string;
}

/** What a trial says of the lot under test, beside its cartridges. */
interface Head {
  readonly file: string;
  readonly id: string | null;
  readonly supplier: string | null;
  readonly size: number | null;
  readonly sampled: number | null;
  readonly agreement: Agreement;
}

/** What is kept of the trials of a lot, so that a trial can be let go once it is taken in. */
export class GatheredLot {
  readonly tried: Tried[] = [];
  private readonly heads: Head[] = [];

  take(result: Assessed): void {
    const { data } = result.trial;
    this.tried.push(...triedOf(result));
    this.heads.push({
      file: result.file,
      id: data.lot?.id ?? null,
      supplier: data.lot?.supplier ?? null,
      size: data.lot?.size?.value.toNumber() ?? null,
      sampled: data.lot?.sampled?.value.toNumber() ?? null,
      agreement: agreementOf(data),
    });
  }

  /** What the trials of a lot say of it, as far as `read` finds it there; each value once. */
  saidOf<T>(lot: string, read: (head: Head) => T | null): readonly SaidOfLot<T>[] {
    const seen = new Map<string, SaidOfLot<T>>();
    const files = new Set(this.tried.filter((one) => one.lot === lot).map(({ file }) => file));
    for (const head of this.heads) {
      const value = read(head);
      if (value === null || !speaksOf(head.id, lot) || !files.has(head.file)) continue;
      const key = String(value);
      if (!seen.has(key)) seen.set(key, { value, file: head.file });
    }
    return [...seen.values()];
  }
}

/** Why trials are not those of one lot. */
export type Mixed =
  | { readonly kind: 'none' }
  | { readonly kind: 'unnamed'; readonly tried: Tried }
  | { readonly kind: 'lots'; readonly tried: readonly [Tried, Tried] }
  | { readonly kind: 'twice'; readonly tried: readonly [Tried, Tried] }
  | {
      readonly kind: 'differ';
      readonly key: string;
      readonly said: readonly [SaidOfLot<string>, SaidOfLot<string>];
    };

/** The cartridges of one lot, and what its trials say of it. */
export interface OneLot {
  readonly id: string;
  readonly supplier: string | null;
  /** Cartridges in the lot; null where no trial says. */
  readonly size: number | null;
  /** Cartridges taken from it, as the trials say; null where none does. */
  readonly sampled: number | null;
  readonly agreement: Agreement;
  readonly tried: readonly Tried[];
}

/** What is said of a lot from outside its trials; null where they are asked. */
export interface Asked {
  readonly lot: string | null;
  readonly size: number | null;
  readonly agreement: Agreement;
}

/** The trials of one lot: of the one named, or of the only one there is. What is asked stands in for what they say. */
export function oneLot(gathered: GatheredLot, asked: Asked): OneLot | Mixed {
  const { lot: named } = asked;
  const [first] = gathered.tried;
  if (first === undefined) return { kind: 'none' };
  const id = named ?? first.lot;
  if (id === null) return { kind: 'unnamed', tried: first };
  const tried = gathered.tried.filter(({ lot }) => lot === id);
  const other = named === null ? gathered.tried.find(({ lot }) => lot !== id) : undefined;
  if (other !== undefined)
    return other.lot === null ? { kind: 'unnamed', tried: other } : { kind: 'lots', tried: [first, other] };
  if (tried.length === 0) return { kind: 'none' };
  const again = twice(tried);
  if (again !== null) return { kind: 'twice', tried: again };

  const suppliers = gathered.saidOf(id, ({ supplier }) => supplier);
  const sizes =
    asked.size === null ? gathered.saidOf(id, ({ size }) => size) : [{ value: asked.size, file: '' }];
  const agreed = KEYS.map(([key, name]) => {
    const own = asked.agreement[name];
    const said =
      own === null ? gathered.saidOf(id, ({ agreement }) => agreement[name]) : [{ value: own, file: '' }];
    return { key: `target.lot.${key}`, name, said };
  });
  const all = [{ key: 'lot.supplier', said: suppliers }, { key: 'lot.size', said: sizes }, ...agreed];
  for (const { key, said } of all) {
    const [one, two] = said.map(({ value, file }) => ({ value: String(value), file }));
    if (one && two) return { kind: 'differ', key, said: [one, two] };
  }
  const value = (name: keyof Agreement) => agreed.find((one) => one.name === name)?.said[0]?.value ?? null;
  const sampled = gathered.saidOf(id, (head) => head.sampled).map((one) => one.value);
  return {
    id,
    supplier: suppliers[0]?.value ?? null,
    size: sizes[0]?.value ?? null,
    sampled: sampled.length === 0 ? null : Math.max(...sampled),
    agreement: {
      limitingQuality: value('limitingQuality'),
      consumerRisk: value('consumerRisk'),
      acceptableQuality: value('acceptableQuality'),
      producerRisk: value('producerRisk'),
    },
    tried,
  };
}

/** Keys of the terms, and their names here. */
const KEYS = [
  ['limiting_quality', 'limitingQuality'],
  ['consumer_risk', 'consumerRisk'],
  ['acceptable_quality', 'acceptableQuality'],
  ['producer_risk', 'producerRisk'],
] as const;
