import * as z from 'zod/mini';
import type { Read } from '../problem.ts';
import { acceptedUnits, type Kind, type Price, type Quantity, readPrice, readQuantity } from '../quantity.ts';
import { readTime, type Time } from '../time.ts';

/**
 * The single values a trial file holds. Each is read from its text as written and yields a typed value
 * or a fault; each also says, for the JSON Schema, what it looks like in a file.
 */

/** A piece of JSON Schema. */
export type JsonSchema = Record<string, unknown>;

/** What the JSON Schema says of a leaf: its text form, or a bare number where one may stand. */
export const leafJson = new WeakMap<object, JsonSchema>();

/** Key for the fault a zod issue carries. */
export const FAULT = 'fault';

/** A leaf from a reading function. */
function leaf<T>(read: (text: string) => Read<T>, json: JsonSchema) {
  const schema = z.pipe(
    z.string(),
    z.transform((text: string, context): T => {
      const outcome = read(text);
      if ('value' in outcome) return outcome.value;
      context.issues.push({ code: 'custom', input: text, params: { [FAULT]: outcome.fault } });
      return z.NEVER;
    }),
  );
  leafJson.set(schema, json);
  return schema;
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
  leaf<Quantity>((text) => readQuantity(text, kind), quantityJson(kind));

/** As `quantity`, but zero has no meaning there. */
export const positive = (kind: Kind) =>
  leaf<Quantity>(
    (text) => {
      const outcome = readQuantity(text, { ...kind, least: 0 });
      if ('value' in outcome && outcome.value.value.isZero())
        return { fault: { code: 'not-positive', written: text } };
      return outcome;
    },
    quantityJson({ ...kind, least: 0 }),
  );

/** A mass from a scale, in grams. */
export const mass = () => quantity({ unit: 'g', least: 0 });
/** A meter reading or a number of pages. */
export const pageCount = () => quantity({ unit: 'page', whole: true, least: 0 });
/** A count of things. */
export const count = () => quantity({ unit: '1', whole: true, least: 0 });
/** A share of the whole, in percent. */
export const percentage = () => quantity({ unit: '%', least: 0, greatest: 100 });
export const temperature = () => quantity({ unit: '°C', least: -273.15 });
/** A pure number. */
export const plainNumber = (least?: number) =>
  quantity({ unit: '1', ...(least === undefined ? {} : { least }) });
export const length = () => quantity({ unit: 'mm', least: 0 });

export const price = () =>
  leaf<Price>(readPrice, { type: 'string', pattern: `^\\s*${NUMBER}\\s*[A-Z]{3}\\s*$` });

export const time = () =>
  leaf<Time>(readTime, {
    type: 'string',
    pattern:
      '^[0-9]{4}-[0-9]{2}-[0-9]{2}(T[0-9]{2}:[0-9]{2}(:[0-9]{2}([.][0-9]+)?)?(Z|[+-][0-9]{2}:[0-9]{2})?)?$',
  });

const SHA256 = /^[0-9a-fA-F]{64}$/;
export const digest = () =>
  leaf<string>(
    (text) =>
      SHA256.test(text) ? { value: text.toLowerCase() } : { fault: { code: 'not-a-digest', written: text } },
    { type: 'string', pattern: '^[0-9a-fA-F]{64}$' },
  );

/** Any text; a number is taken as its digits. */
export const text = () =>
  leaf<string>((written) => ({ value: written }), { type: ['string', 'number', 'boolean'] });

/** Text that must say something. */
export const title = () =>
  leaf<string>(
    (written) => (written.trim() === '' ? { fault: { code: 'empty-text' } } : { value: written.trim() }),
    { type: ['string', 'number', 'boolean'] },
  );

/** The name of a slot: any text but the words that mean something else where slots stand. */
export const slotName = () =>
  leaf<string>(
    (written) =>
      /^(value|tolerance|total|least|greatest|mean)$|#|^\s*$/.test(written)
        ? { fault: { code: 'bad-slot-name', written } }
        : { value: written.trim() },
    { type: 'string', not: { enum: ['value', 'tolerance', 'total', 'least', 'greatest', 'mean'] } },
  );

/** One of a few words. */
export const word = <const W extends readonly [string, ...string[]]>(words: W) => z.enum(words);

/** What a key holds, for editors; kept beside the schemas so that reading a trial does not pay for it. */
export const descriptions = new WeakMap<object, string>();

function described<S extends object>(description: string, schema: S): S {
  descriptions.set(schema, description);
  return schema;
}

/** An optional key; empty means not yet taken, or not known. */
export const key = <S extends z.ZodMiniType>(description: string, schema: S) =>
  described(description, z.optional(z.nullable(schema)));

/** An optional key whose schema is built only once a file has that key: most trials use few of them. */
export const rare = <S extends z.ZodMiniType>(description: string, schema: () => S) =>
  described(description, z.optional(z.nullable(z.lazy(schema))));

/** A key that must be there, though its value may still be empty. */
export const must = <S extends z.ZodMiniType>(description: string, schema: S) =>
  described(description, z.nullable(schema));

/** A map of known keys, everything else refused. */
export const section = <S extends Record<string, z.ZodMiniType>>(shape: S) => z.strictObject(shape);
