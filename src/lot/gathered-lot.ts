import { twice } from '../pool/cartridge.ts';
import type { Assessed } from '../judge/assess.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { dotted } from '../uncertainty/path.ts';
import { eachOnce, type Inspected, inspectedOf } from './inspected.ts';
import {
  agreedAt,
  type Agreement,
  type AgreedOfFindings,
  agreedOfFindings,
  agreementOf,
  type FindingClass,
  NOTHING_AGREED,
} from './terms.ts';
import { speaksOf } from '../trial/lot.ts';
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
  readonly agreedOfFindings: AgreedOfFindings;
}

/** A cartridge as it is told from others. */
export interface Named {
  readonly file: string;
  readonly name: string | null;
  readonly serial: string | null;
  readonly lot: string | null;
}

/** What is kept of the trials of a lot, so that a trial can be let go once it is taken in. */
export class GatheredLot {
  readonly tried: Tried[] = [];
  readonly inspected: Inspected[] = [];
  private readonly heads: Head[] = [];

  take(result: Assessed): void {
    const { data } = result.trial;
    this.tried.push(...triedOf(result));
    this.inspected.push(...inspectedOf(result));
    this.heads.push({
      file: result.file,
      id: data.lot?.id ?? null,
      supplier: data.lot?.supplier ?? null,
      size: data.lot?.size?.value.toNumber() ?? null,
      sampled: data.lot?.sampled?.value.toNumber() ?? null,
      agreement: agreementOf(data),
      agreedOfFindings: agreedOfFindings(data),
    });
  }

  /** Whether any trial says on which terms its lot is taken. */
  get agreed(): boolean {
    return this.heads.some(({ agreement, agreedOfFindings: of }) =>
      [agreement, of.critical, of.major, of.minor].some((one) => one.limitingQuality !== null),
    );
  }

  /** What the trials of a lot say of it, as far as `read` finds it there; each value once. */
  saidOf<T>(lot: string, read: (head: Head) => T | null): readonly SaidOfLot<T>[] {
    const seen = new Map<string, SaidOfLot<T>>();
    const of = [...this.tried, ...this.inspected].filter((one) => one.lot === lot);
    const files = new Set(of.map(({ file }) => file));
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
  | { readonly kind: 'unnamed'; readonly cartridge: Named }
  | { readonly kind: 'lots'; readonly cartridges: readonly [Named, Named] }
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
  readonly agreedOfFindings: AgreedOfFindings;
  readonly tried: readonly Tried[];
  /** Looked at on delivery, each once. */
  readonly inspected: readonly Inspected[];
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
  const all: readonly Named[] = [...gathered.tried, ...gathered.inspected];
  const [first] = all;
  if (first === undefined) return { kind: 'none' };
  const id = named ?? first.lot;
  if (id === null) return { kind: 'unnamed', cartridge: first };
  const other = named === null ? all.find(({ lot }) => lot !== id) : undefined;
  if (other !== undefined)
    return other.lot === null
      ? { kind: 'unnamed', cartridge: other }
      : { kind: 'lots', cartridges: [first, other] };
  const tried = gathered.tried.filter(({ lot }) => lot === id);
  const inspected = eachOnce(gathered.inspected.filter(({ lot }) => lot === id));
  if (tried.length === 0 && inspected.length === 0) return { kind: 'none' };
  const again = twice(tried);
  if (again !== null) return { kind: 'twice', tried: again };

  const suppliers = gathered.saidOf(id, ({ supplier }) => supplier);
  const sizes =
    asked.size === null ? gathered.saidOf(id, ({ size }) => size) : [{ value: asked.size, file: '' }];
  const agreed = agreedOf(gathered, id, null, asked.agreement);
  const [critical, major, minor] = [
    agreedOf(gathered, id, 'critical', NOTHING_AGREED),
    agreedOf(gathered, id, 'major', NOTHING_AGREED),
    agreedOf(gathered, id, 'minor', NOTHING_AGREED),
  ];
  const told = [
    { key: 'lot.supplier', said: suppliers },
    { key: 'lot.size', said: sizes },
    ...[agreed, critical, major, minor].flat(),
  ];
  for (const { key, said } of told) {
    const [one, two] = said.map(({ value, file }) => ({ value: String(value), file }));
    if (one && two) return { kind: 'differ', key, said: [one, two] };
  }
  const sampled = gathered.saidOf(id, (head) => head.sampled).map((one) => one.value);
  return {
    id,
    supplier: suppliers[0]?.value ?? null,
    size: sizes[0]?.value ?? null,
    sampled: sampled.length === 0 ? null : Math.max(...sampled),
    agreement: agreementIn(agreed),
    agreedOfFindings: {
      critical: agreementIn(critical),
      major: agreementIn(major),
      minor: agreementIn(minor),
    },
    tried,
    inspected,
  };
}

/** Keys of the terms, and their names here. */
const KEYS = [
  ['limiting_quality', 'limitingQuality'],
  ['consumer_risk', 'consumerRisk'],
  ['acceptable_quality', 'acceptableQuality'],
  ['producer_risk', 'producerRisk'],
] as const;

/** A term, and each value that the trials of a lot give it. */
interface AgreedTerm {
  readonly key: string;
  readonly name: keyof Agreement;
  readonly said: readonly SaidOfLot<Decimal>[];
}

/** What the trials of a lot say was agreed of it, or of a class of findings; `own` terms stand in for theirs. */
const agreedOf = (
  gathered: GatheredLot,
  id: string,
  of: FindingClass | null,
  own: Agreement,
): readonly AgreedTerm[] =>
  KEYS.map(([key, name]) => {
    const value = own[name];
    const said =
      value === null
        ? gathered.saidOf(id, (head) => (of === null ? head.agreement : head.agreedOfFindings[of])[name])
        : [{ value, file: '' }];
    return { key: dotted([...agreedAt(of), key]), name, said };
  });

function agreementIn(terms: readonly AgreedTerm[]): Agreement {
  const value = (name: keyof Agreement) => terms.find((one) => one.name === name)?.said[0]?.value ?? null;
  return {
    limitingQuality: value('limitingQuality'),
    consumerRisk: value('consumerRisk'),
    acceptableQuality: value('acceptableQuality'),
    producerRisk: value('producerRisk'),
  };
}
