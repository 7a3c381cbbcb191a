import * as z from 'zod';

/**
 * What the schemas of JSON outputs have in common. A schema stands here once: what `schema --of` prints and the type
 * that its writer keeps to are both made of it. Nothing but that command loads this; the writers take its types alone.
 */

/** A number as decimal text, with a description that gives its unit. */
export const decimal = (description: string) =>
  z
    .string()
    .regex(/^-?\d+(\.\d+)?$/)
    .describe(`${description} A decimal as text, so that no digit is lost.`);

/** The same, or null for the reason given. */
export const decimalOr = (description: string, none: string) =>
  z.nullable(decimal(description)).describe(`${description} Null: ${none}`);

/** A text, or null for the reason given. */
export const textOr = (description: string, none: string) =>
  z.nullable(z.string()).describe(`${description} Null: ${none}`);

export const text = (description: string) => z.string().describe(description);

/** A whole number that counts something. */
export const count = (description: string) => z.int().min(0).describe(description);

export const countOr = (description: string, none: string) =>
  z.nullable(z.int().min(0)).describe(`${description} Null: ${none}`);

/** What every output begins with. */
export const head = <const F extends number>(format: F) => ({
  format: z
    .literal(format)
    .describe('Format of this output; raised when a reader of it would have to change.'),
  tool: text('The program that wrote it, with its version.'),
});

export const bound = z
  .enum(['exact', 'at_least', 'at_most'])
  .describe(
    'What the value is: exact, the value itself; at_least, only a lower bound (a cartridge that was not exhausted printed so many pages, and does not yield so many); at_most, only an upper bound.',
  );

export const u = (none: string) =>
  z
    .nullable(decimal('Standard uncertainty.'))
    .describe(
      `Standard uncertainty u (JCGM 100) in the unit of the value, as a decimal; the expanded one printed for people is U = 2u; "0" where the value is exact. Null: ${none}`,
    );

/** Which figure is meant: its name, of which part, and which of several readings. */
export const which = {
  figure: text('Name of the figure, as "tallytare explain" knows it.'),
  of: textOr(
    'The part it is of: a slot (black; black#2 is the second cartridge there), patch, stage or part.',
    'the whole trial.',
  ),
  stat: z
    .nullable(z.enum(['least', 'greatest', 'mean']))
    .describe('Of several readings or parts which: least, greatest or mean. Null: the figure itself.'),
};

export const severityOr = (description: string, none: string) =>
  z
    .nullable(z.string())
    .describe(
      `${description} A decimal as text, or a severity (none, minor, major, critical). Null: ${none}`,
    );

export const verdict = z.enum(['pass', 'fail', 'inconclusive', 'invalid']);

export const outcome = z
  .enum(['met', 'missed', 'open'])
  .describe('met; missed; open: cannot be decided from the readings.');

export const effect = z
  .enum(['fails', 'voids', 'advises'])
  .describe(
    'Of a limit that is missed: fails condemns what was tried, voids means the trial proves nothing, advises neither.',
  );

export const list = <S extends z.ZodType>(entry: S, description: string) =>
  z.array(entry).describe(description);
