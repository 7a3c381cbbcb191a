import * as z from 'zod/mini';
import { EFFECT_OF, EFFECTS, SEVERITY, STATS, WEIGHTS } from '../trial/catalogue.ts';
import { SEVERITIES } from '../trial/schema/severities.ts';
import type { Input } from './input.ts';
import { SEAL_FORMAT, type Seal } from './seal.ts';
import { bytesOf, contentText, type Digest } from './seal-text.ts';

/** A name of limits in a seal is opened as a limits file, or looked up as a preset, and as nothing else. */
export const LIMITS_NAME = /^[a-z0-9-]+$|\.ya?ml$/i;

/** Why a seal cannot be relied on. */
export type SealFault =
  /** Its text is not as it was sealed: the digest does not fit, or has gone. */
  | { readonly code: 'seal-altered' }
  /** The digest fits, but the content is no seal of this format. */
  | { readonly code: 'seal-malformed' }
  | { readonly code: 'seal-too-large' };

/** A seal as read: relied on, not to be relied on, or of a later format. */
export type ReadSeal = { readonly seal: Seal } | { readonly fault: SealFault } | { readonly newer: number };

/** How every seal of any format begins. */
const HEAD = /^\{\n {2}"digest": "([0-9a-f]{64})",\n {2}"format": ([1-9]\d{0,5}),?\n/;

/**
 * A seal from its text, which is not trusted: the digest is checked before anything of the content is
 * looked at, the content is held against the format, and written again it must give the same text. A
 * file whose line ends were turned into CR LF on the way is read as it was.
 */
export function readSeal(text: string, digest: Digest): ReadSeal {
  const plain = text.replaceAll('\r\n', '\n');
  const head = HEAD.exec(plain);
  if (head === null) return { fault: { code: 'seal-altered' } };
  const [, sealed, format] = head;
  if (Number(format) > SEAL_FORMAT) return { newer: Number(format) };
  const content = plain.replace(/\n.*\n/, '\n');
  if (digest(bytesOf(content)) !== sealed) return { fault: { code: 'seal-altered' } };
  const read = schemaOf(Number(format)).safeParse(parsed(content));
  if (!read.success || contentText(read.data) !== content || !read.data.figures.every(fitsUnit))
    return { fault: { code: 'seal-malformed' } };
  return { seal: inToday(read.data) };
}

/** A severity is a word, and everything else a number. */
const fitsUnit = ({ value: said, unit }: { value: string; unit: string }): boolean =>
  (SEVERITIES as readonly string[]).includes(said) === (unit === SEVERITY);

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** Longer than any number of 34 digits that a figure can have. */
const MOST_DIGITS = 400;

/** The schemas of seals; each made when the first one is read. */
const schemaOf = (format: number) =>
  format === 1
    ? (first ??= firstSchema())
    : format === 2
      ? (second ??= secondSchema())
      : format === 3
        ? (third ??= thirdSchema())
        : (today ??= sealSchema());

let today: ReturnType<typeof sealSchema> | undefined;
let third: ReturnType<typeof thirdSchema> | undefined;
let second: ReturnType<typeof secondSchema> | undefined;
let first: ReturnType<typeof firstSchema> | undefined;

const decimal = () => z.string().check(z.maxLength(MOST_DIGITS), z.regex(/^-?\d+(\.\d+)?$/));
const value = () => z.union([decimal(), z.enum(SEVERITIES)]);
const of = () => ({ figure: z.string(), of: z.nullable(z.string()), stat: z.nullable(z.enum(STATS)) });
const edges = () => ({ min: z.nullable(value()), max: z.nullable(value()), unit: z.string() });
const outcome = () => z.enum(['met', 'missed', 'open']);

/** The keys that stand before the inputs. */
const head = <const F extends number>(format: F) => ({
  format: z.literal(format),
  tool: z.string(),
  file: z.string(),
  trial: z.string(),
  verdict: z.enum(['pass', 'fail', 'inconclusive']),
});

/** How figures were held against limits, up to format 3. */
const rule = () => ({ rule: z.enum(['simple', 'guarded']), factor: decimal() });

const decision = () => ({
  ...rule(),
  precision: z.array(
    z.strictObject({
      figure: z.string(),
      of: z.nullable(z.string()),
      sd: decimal(),
      degrees_of_freedom: decimal(),
    }),
  ),
});

/** The keys from the inputs on, without limits and outcomes. */
const inputs = <const K extends readonly Input['kind'][], const D extends z.core.$ZodShape>(
  kinds: K,
  decision: D,
) => ({
  inputs: z.array(
    z.strictObject({
      kind: z.enum(kinds),
      file: z.string(),
      sha256: z.string().check(z.regex(/^[0-9a-f]{64}$/)),
    }),
  ),
  over: z.array(z.string().check(z.regex(LIMITS_NAME))),
  decision: z.strictObject(decision),
  reference_coverage: decimal(),
});

const figures = () => ({
  figures: z.array(
    z.strictObject({
      ...of(),
      value: value(),
      unit: z.string(),
      u: z.nullable(decimal()),
      bound: z.enum(['exact', 'at_least', 'at_most']),
    }),
  ),
});

const checked = () =>
  z.array(z.strictObject({ reading: z.string(), note: z.string(), by: z.nullable(z.string()) }));

/** The keys behind the inputs. */
const judged = () => {
  const limit = () => ({ ...of(), ...edges(), effect: z.enum(EFFECTS) });
  return {
    limits: z.array(z.strictObject({ ...limit(), from: z.string() })),
    outcomes: z.array(z.strictObject({ ...limit(), outcome: outcome() })),
    ...figures(),
  };
};

const sealSchema = () =>
  z.strictObject({
    ...head(SEAL_FORMAT),
    checked: checked(),
    readings: z.nullable(z.array(z.strictObject({ key: z.string(), text: z.string() }))),
    ...inputs(['trial', 'table', 'document', 'limits', 'preset', 'photo'], decision()),
    ...judged(),
  });

/** Format 3, without the scatter of repeated trials. */
const thirdSchema = () =>
  z.strictObject({
    ...head(3),
    checked: checked(),
    readings: z.nullable(z.array(z.strictObject({ key: z.string(), text: z.string() }))),
    ...inputs(['trial', 'limits', 'preset', 'photo'], rule()),
    ...judged(),
  });

/** Format 2, without the readings, and without photos among the inputs. */
const secondSchema = () =>
  z.strictObject({
    ...head(2),
    checked: checked(),
    ...inputs(['trial', 'limits', 'preset'], rule()),
    ...judged(),
  });

/** Format 1, which says `weight: reject / condition / warn` for the effect of a limit. */
function firstSchema() {
  const limit = () => ({ ...of(), ...edges(), weight: z.enum(WEIGHTS) });
  return z.strictObject({
    ...head(1),
    ...inputs(['trial', 'limits', 'preset'], rule()),
    limits: z.array(z.strictObject({ ...limit(), from: z.string() })),
    outcomes: z.array(z.strictObject({ ...limit(), outcome: outcome() })),
    ...figures(),
  });
}

/** A seal of before in the words of today. */
function inToday(read: z.infer<ReturnType<typeof schemaOf>>): Seal {
  if (read.format === SEAL_FORMAT) return read;
  const decision = { ...read.decision, precision: [] };
  if (read.format === 3) return { ...read, format: SEAL_FORMAT, decision };
  if (read.format === 2) return { ...read, format: SEAL_FORMAT, decision, readings: null };
  const { limits, outcomes, ...rest } = read;
  return {
    ...rest,
    format: SEAL_FORMAT,
    decision,
    checked: [],
    readings: null,
    limits: limits.map(({ weight, from, ...limit }) => ({ ...limit, effect: EFFECT_OF[weight], from })),
    outcomes: outcomes.map(({ weight, outcome: came, ...limit }) => ({
      ...limit,
      effect: EFFECT_OF[weight],
      outcome: came,
    })),
  };
}
