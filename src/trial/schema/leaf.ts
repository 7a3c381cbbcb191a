import { Decimal } from '../../uncertainty/decimal.ts';
import { nearest } from '../nearest.ts';
import type { Fault, Read } from '../../problems/problem.ts';
import {
  acceptedUnits,
  type Kind,
  type Price,
  type Quantity,
  readMoney,
  readPrice,
  readQuantity,
} from '../quantity.ts';
import { MOST_WEIGHINGS, repeated } from '../repeated.ts';
import { readTime, type Time } from '../time.ts';
import { unquoted } from '../typed.ts';
import * as z from './zod.ts';

/**
 * The single values a trial file holds. Each is read from its text as written and yields a typed value
 * or a fault; each also says, for the JSON Schema, what it looks like in a file.
 */

/** A piece of JSON Schema. */
export type JsonSchema = Record<string, unknown>;

/** What the JSON Schema says of a leaf: its text form, or a bare number where one may stand. */
export const leafJson = new WeakMap<object, () => JsonSchema>();

/** Key for the fault a zod issue carries. */
export const FAULT = 'fault';

/** What a function makes, made when first asked for. */
export function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => (made ??= { value: make() }).value;
}

/** One value read from its text; what is wrong with it is reported to the context, at `path` below the key. */
function readOne<T>(
  read: (text: string) => Read<T>,
  input: unknown,
  { issues }: z.Context,
  path: number[] = [],
): T {
  if (typeof input !== 'string') {
    issues.push({ code: 'invalid_type', expected: 'string', input, path });
    return z.NEVER;
  }
  const outcome = read(input);
  if ('value' in outcome) return outcome.value;
  issues.push({ code: 'custom', input, path, params: { [FAULT]: outcome.fault } });
  return z.NEVER;
}

/**
 * A leaf from a reading function. It is made when first asked for, and the same ever after: one object
 * each, since a trial pays for every one.
 */
function leaf<T>(read: (text: string) => Read<T>, json: () => JsonSchema) {
  return once(() => {
    const schema = z.transform((input: unknown, context): T => readOne(read, input, context));
    leafJson.set(schema, json);
    return schema;
  });
}

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&');
const NUMBER = '[+-]?([0-9]+([.][0-9]*)?|[.][0-9]+)([eE][+-]?[0-9]+)?';

/** The JSON Schema of a quantity: a bare number in its own unit, or text of number and unit. */
export function quantityJson(kind: Kind): JsonSchema {
  const units = acceptedUnits(kind.unit);
  const unit = units.length === 0 ? '' : `(\\s*(${units.map(escaped).join('|')}))?`;
  const bare = kind.unit === '1' ? {} : { description: `A bare number is in ${kind.unit}.` };
  return {
    anyOf: [
      { type: kind.whole ? 'integer' : 'number', ...range(kind), ...bare },
      { type: 'string', pattern: `^\\s*${NUMBER}${unit}\\s*$` },
    ],
  };
}

const range = ({ least, greatest }: Kind): JsonSchema => ({
  ...(least === undefined ? {} : { minimum: least }),
  ...(greatest === undefined ? {} : { maximum: greatest }),
});

/** A number with a unit of `kind`, or a bare number in its own unit. */
export const quantity = (kind: Kind) =>
  leaf<Quantity>(
    (text) => readQuantity(text, kind),
    () => quantityJson(kind),
  );

/** As `quantity`, but zero has no meaning there. */
export const positive = (kind: Kind) =>
  leaf<Quantity>(
    (text) => {
      const outcome = readQuantity(text, { ...kind, least: 0 });
      if ('fault' in outcome || !outcome.value.value.isZero()) return outcome;
      return { fault: { code: 'not-positive', written: text } };
    },
    () => quantityJson({ ...kind, least: 0 }),
  );

const GRAMS: Kind = { unit: 'g', least: 0 };

/** A mass from a scale, in grams; or a list of weighings of one thing, which stands for their mean. */
export const mass = once(() => {
  const read = (text: string): Read<Quantity> => readQuantity(text, GRAMS);
  const schema = z.transform((input: unknown, context): Quantity => {
    if (!Array.isArray(input)) return readOne(read, input, context);
    const got = input.length;
    if (got > 0 && got <= MOST_WEIGHINGS) {
      const values = input.map((one, index) => readOne(read, one, context, [index]));
      return context.issues.length > 0 ? z.NEVER : repeated(values);
    }
    const fault: Fault = { code: 'wrong-length', least: 1, expected: MOST_WEIGHINGS, got };
    context.issues.push({ code: 'custom', input, params: { [FAULT]: fault } });
    return z.NEVER;
  });
  leafJson.set(schema, () => {
    const { anyOf } = quantityJson(GRAMS);
    const list = { type: 'array', items: { anyOf }, minItems: 1, maxItems: MOST_WEIGHINGS };
    return { anyOf: [...(anyOf as JsonSchema[]), list] };
  });
  return schema;
});

/** A mass that was weighed once, in grams. */
export const oneMass = quantity(GRAMS);
/** A meter reading or a number of pages. */
export const pageCount = quantity({ unit: 'page', whole: true, least: 0 });
/** A number of pages of which there is at least one. */
export const somePages = positive({ unit: 'page', whole: true });
/** A count of things. */
export const count = quantity({ unit: '1', whole: true, least: 0 });
/** A share of the whole, in percent. */
export const percentage = quantity({ unit: '%', least: 0, greatest: 100 });
export const temperature = quantity({ unit: '°C', least: -273.15 });
/** A pure number, of either sign. */
export const plainNumber = quantity({ unit: '1' });
/** A pure number, not negative. */
export const amount = quantity({ unit: '1', least: 0 });
export const length = quantity({ unit: 'mm', least: 0 });

const PRICE = (): JsonSchema => ({
  type: 'string',
  pattern: `^\\s*${NUMBER}\\s*[A-Z]{3}\\s*$`,
});

/** An amount of money, as a quantity in its currency. */
export const money = leaf<Quantity>(readMoney, PRICE);

/** One of several words as its place among them, the first being 0. */
export const rank = (words: readonly string[]) =>
  leaf<Quantity>(
    (text) => {
      const place = words.indexOf(text.trim());
      if (place === -1) {
        return {
          fault: { code: 'unknown-word', written: text, known: words, nearest: nearest(text, words) },
        };
      }
      return { value: { value: new Decimal(place), resolution: new Decimal(1), text: text.trim() } };
    },
    () => ({ enum: words }),
  );

export const price = leaf<Price>(readPrice, PRICE);

export const time = leaf<Time>(readTime, () => ({
  type: 'string',
  pattern:
    '^[0-9]{4}-[0-9]{2}-[0-9]{2}(T[0-9]{2}:[0-9]{2}(:[0-9]{2}([.][0-9]+)?)?(Z|[+-][0-9]{2}:[0-9]{2})?)?$',
}));

const SHA256 = /^[0-9a-fA-F]{64}$/;
export const digest = leaf<string>(
  (text) =>
    SHA256.test(text) ? { value: text.toLowerCase() } : { fault: { code: 'not-a-digest', written: text } },
  () => ({ type: 'string', pattern: '^[0-9a-fA-F]{64}$' }),
);

/** A number or a boolean in a file is taken as its text. */
const ANY_SCALAR = (): JsonSchema => ({ type: ['string', 'number', 'boolean'] });

/** A text without the blanks around it, its letters composed: what looks the same is the same. */
const told = (written: string): Read<string> =>
  written.isWellFormed()
    ? { value: unquoted(written).trim().normalize('NFC') }
    : { fault: { code: 'half-character', written } };

/** Any text. */
export const text = leaf<string>(told, ANY_SCALAR);

/** Text that must say something. */
export const title = leaf<string>(
  (written) => (unquoted(written).trim() === '' ? { fault: { code: 'empty-text' } } : told(written)),
  ANY_SCALAR,
);

/** Characters that take no room, or turn the direction of writing: two names may differ in nothing else. */
const HIDDEN = /\p{Cf}/u;

function toldApart(written: string): Read<string> {
  const hidden = HIDDEN.exec(written)?.[0].codePointAt(0);
  if (hidden === undefined) return told(written);
  const character = `U+${hidden.toString(16).toUpperCase().padStart(4, '0')}`;
  return { fault: { code: 'hidden-character', written, character } };
}

/** A name that tells one thing from another: a serial, a lot. */
export const name = leaf<string>(toldApart, ANY_SCALAR);

/** Such a name that must be there: a patch, a part. */
export const neededName = leaf<string>(
  (written) => (written.trim() === '' ? { fault: { code: 'empty-text' } } : toldApart(written)),
  ANY_SCALAR,
);

/** Words that mean something else where slots stand. */
const NO_SLOTS = ['value', 'tolerance', 'document', 'total', 'least', 'greatest', 'mean'];

/** The name of a slot. */
export const slotName = leaf<string>(
  (written) =>
    NO_SLOTS.includes(written.trim()) || /#|^\s*$/.test(written)
      ? { fault: { code: 'bad-slot-name', written } }
      : toldApart(written),
  () => ({ type: ['string', 'number', 'boolean'], not: { enum: NO_SLOTS } }),
);

/** One of a few words. */
export const word = <const W extends readonly [string, ...string[]]>(words: W) => once(() => z.words(words));

const TRUE_OR_FALSE = ['true', 'false'];

/** `true` or `false`. */
export const flag = leaf<boolean>(
  (text) => {
    const written = text.trim();
    if (TRUE_OR_FALSE.includes(written)) return { value: written === 'true' };
    return {
      fault: {
        code: 'unknown-word',
        written: text,
        known: TRUE_OR_FALSE,
        nearest: nearest(text, TRUE_OR_FALSE),
      },
    };
  },
  () => ({ type: 'boolean' }),
);

/** The ways to read what stands under a key; the first that fits is taken. */
export function oneOf<const W extends readonly (() => z.Schema)[]>(
  ...ways: W
): z.Union<{ -readonly [Index in keyof W]: ReturnType<W[Index]> }> {
  return z.union(ways.map((way) => way())) as unknown as z.Union<{
    -readonly [Index in keyof W]: ReturnType<W[Index]>;
  }>;
}

/** Whether a key must be there, and whether it may be empty then. */
export type Presence = 'optional' | 'present' | 'filled';

/** A key of a section: what it holds, for editors, and the schema of its value. */
export interface Key<S extends z.Schema, P extends Presence> {
  readonly description: string;
  readonly schema: () => S;
  readonly presence: P;
}

/** An optional key; empty means not yet taken, or not known. */
export const key = <S extends z.Schema>(description: string, schema: () => S): Key<S, 'optional'> => ({
  description,
  schema,
  presence: 'optional',
});

/** A key that must be there, though its value may come later. */
export const must = <S extends z.Schema>(description: string, schema: () => S): Key<S, 'present'> => ({
  description,
  schema,
  presence: 'present',
});

/** A key that must be there and say something. */
export const filled = <S extends z.Schema>(description: string, schema: () => S): Key<S, 'filled'> => ({
  description,
  schema,
  presence: 'filled',
});

type Shape<K> = {
  -readonly [Name in keyof K]: K[Name] extends Key<infer S, infer P>
    ? P extends 'filled'
      ? S
      : P extends 'present'
        ? z.Nullable<S>
        : z.Optional<z.Nullable<S>>
    : never;
};

/** Leaves stand under many keys; each is made to be empty, or absent, once. */
const emptied = new WeakMap<z.Schema, z.Schema>();
const absent = new WeakMap<z.Schema, z.Schema>();

function wrapped(
  known: WeakMap<z.Schema, z.Schema>,
  schema: z.Schema,
  wrap: (inner: z.Schema) => z.Schema,
): z.Schema {
  const made = known.get(schema) ?? wrap(schema);
  known.set(schema, made);
  return made;
}

function present(schema: z.Schema, presence: Presence): z.Schema {
  if (presence === 'filled') return schema;
  const inner = wrapped(emptied, schema, z.nullable);
  return presence === 'present' ? inner : wrapped(absent, inner, z.optional);
}

/** What the keys of a section hold, for editors. */
export const descriptions = new WeakMap<object, Readonly<Record<string, string>>>();

/** A map of known keys, everything else refused; it is made when a file has it. */
export function section<K extends Record<string, Key<z.Schema, Presence>>>(
  keys: K,
): z.MapOf<Shape<K>, z.Strict> {
  return z.deferred(() => {
    const shape: Record<string, z.Schema> = {};
    const about: Record<string, string> = {};
    for (const [name, { description, schema, presence }] of Object.entries(keys)) {
      shape[name] = present(schema(), presence);
      about[name] = description;
    }
    const built = z.map(shape) as unknown as z.MapOf<Shape<K>, z.Strict>;
    descriptions.set(built, about);
    return built;
  });
}
