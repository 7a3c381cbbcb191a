import * as core from 'zod/v4/core';

/**
 * The kinds of schema a trial is made of: those of zod's core, which its `mini` form dresses with methods
 * for building on them. Nobody does here, and every start would pay for it.
 */

export type { $ZodIssue as Issue, $ZodType as Schema, output } from 'zod/v4/core';
export type { $strict as Strict, $ZodNullable as Nullable, $ZodObject as MapOf } from 'zod/v4/core';
export type { $ZodOptional as Optional, $ZodUnion as Union } from 'zod/v4/core';
export { NEVER, safeParse, toJSONSchema } from 'zod/v4/core';

type Schema = core.$ZodType;

let nothing: core.$ZodNever | undefined;

/** What nothing fits: one for all, since every map of known keys needs it. */
export const never = (): core.$ZodNever => (nothing ??= new core.$ZodNever({ type: 'never' }));

/** Where a function that reads an input reports what it cannot read. */
export type Context = core.ParsePayload;

/** What a function makes of the input; it reports what it cannot read to the context. */
export const transform = <T>(
  read: (input: unknown, context: core.ParsePayload) => T,
): core.$ZodTransform<T> =>
  new core.$ZodTransform({ type: 'transform', transform: read }) as core.$ZodTransform<T>;

/** One of a few words. */
export const words = <const W extends readonly string[]>(known: W): core.$ZodEnum<{ [K in W[number]]: K }> =>
  new core.$ZodEnum({
    type: 'enum',
    entries: Object.fromEntries(known.map((one) => [one, one])),
  }) as unknown as core.$ZodEnum<{ [K in W[number]]: K }>;

export const optional = <S extends Schema>(innerType: S): core.$ZodOptional<S> =>
  new core.$ZodOptional({ type: 'optional', innerType }) as core.$ZodOptional<S>;

export const nullable = <S extends Schema>(innerType: S): core.$ZodNullable<S> =>
  new core.$ZodNullable({ type: 'nullable', innerType }) as core.$ZodNullable<S>;

/** The first of several that fits. */
export const union = <const W extends readonly Schema[]>(options: W): core.$ZodUnion<W> =>
  new core.$ZodUnion({ type: 'union', options }) as core.$ZodUnion<W>;

export const array = <S extends Schema>(element: S): core.$ZodArray<S> =>
  new core.$ZodArray({ type: 'array', element }) as core.$ZodArray<S>;

/** A list of just these. */
export const tuple = <const I extends readonly [Schema, ...Schema[]]>(items: I): core.$ZodTuple<I, null> =>
  new core.$ZodTuple({ type: 'tuple', items, rest: null }) as core.$ZodTuple<I, null>;

/** A map with keys of one kind. */
export const record = <K extends core.$ZodRecordKey, V extends Schema>(
  keyType: K,
  valueType: V,
): core.$ZodRecord<K, V> =>
  new core.$ZodRecord({ type: 'record', keyType, valueType }) as core.$ZodRecord<K, V>;

/** A map of known keys, everything else refused. */
export const map = <S extends core.$ZodLooseShape>(shape: S): core.$ZodObject<S, core.$strict> =>
  new core.$ZodObject({ type: 'object', shape, catchall: never() }) as core.$ZodObject<S, core.$strict>;

interface DeferredDef extends core.$ZodTypeDef {
  readonly type: 'lazy';
  readonly getter: () => Schema;
}

interface DeferredInternals extends core.$ZodTypeInternals {
  readonly def: DeferredDef;
  readonly innerType: Schema;
}

interface Deferred extends Schema {
  _zod: DeferredInternals;
}

/** What every kind of schema begins with. */
const init = (self: Deferred, def: DeferredDef): void => {
  const begin: core.$constructor<Schema, core.$ZodTypeDef> = core.$ZodType;
  begin.init(self, def);
};

/**
 * zod's own lazy schema is made for an absent key too: what makes it optional asks what is inside whether that may be
 * absent. This one answers without looking.
 */
const Deferred = core.$constructor('Deferred', (self: Deferred, def: DeferredDef) => {
  init(self, def);
  let made: Schema | undefined;
  const inner = (): Schema => (made ??= def.getter());
  Object.defineProperty(self._zod, 'innerType', { get: inner });
  self._zod.parse = (payload, context) => inner()._zod.run(payload, context);
});

/** A schema that is made when something is first read with it. */
export const deferred = <S extends Schema>(make: () => S): S =>
  new Deferred({ type: 'lazy', getter: make }) as unknown as S;
