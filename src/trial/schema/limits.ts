import {
  type Catalogue,
  CURRENCY,
  type FigureEntry,
  SEVERITY,
  type Stat,
  STATS,
  EFFECTS,
  WEIGHTS,
} from '../catalogue.ts';
import type { Quantity } from '../quantity.ts';
import {
  amount,
  filled,
  key,
  money,
  once,
  oneOf,
  positive,
  quantity,
  rank,
  section,
  text,
  title,
  usageFile,
  word,
} from './leaf.ts';
import { SEVERITIES } from './severities.ts';
import * as z from './zod.ts';

export const RULES = ['simple', 'guarded'] as const;

/** A value of a figure, as it stands in a limit or a statement: in its own unit. */
const valueOf = ({ unit }: FigureEntry) =>
  unit === CURRENCY ? money : unit === SEVERITY ? rank(SEVERITIES) : quantity({ unit });

/** One limit: what a figure must keep to. */
const limitSchema = (figure: FigureEntry) => {
  const value = valueOf(figure);
  return section({
    min: key(`The ${figure.title} is not below this.`, value),
    max: key(`The ${figure.title} is not above this.`, value),
    of: key('Slot, cartridge, patch, stage or part it holds for; every one unless said.', text),
    stat: key('Least, greatest or mean reading it holds for; every reading unless said.', word(STATS)),
    effect: key(
      `What it means that it is missed: fails condemns what was tried, voids makes the trial prove nothing, advises only warns; ${figure.effect} unless said.`,
      word(EFFECTS),
    ),
    weight: key(
      'The word of before for effect: reject (fails), condition (voids) or warn (advises).',
      word(WEIGHTS),
    ),
  });
};

/** What `precision` finds, by figure; figures that are counted, paid or judged by eye have none. */
const precisionSchema = (catalogue: Catalogue) => {
  const keys: Parameters<typeof section>[0] = {};
  for (const { name, title, unit, per } of catalogue) {
    if (unit === CURRENCY || unit === SEVERITY || per === 'readings' || per === 'findings') continue;
    keys[name] = key(`The ${title} over repeated trials.`, () =>
      z.deferred(() => {
        const entry = section({
          of: key('Slot or patch it is of; every one unless said.', text),
          sd: filled(
            `Standard deviation between trials, in ${unit}.`,
            quantity({ unit, difference: true, least: 0 }),
          ),
          degrees_of_freedom: filled('How well it is known.', quantity({ unit: '1', least: 1 })),
        });
        return z.union([entry, z.array(entry)]);
      }),
    );
  }
  return section(keys);
};

/** A set of limits, as it stands under `limits` in a trial or as a file of its own. */
export const limitSetSchema = (catalogue: Catalogue) => {
  const keys: Parameters<typeof section>[0] = {
    decision: key('How a figure is held against a limit.', () =>
      section({
        rule: key('simple: the value itself decides; guarded: only beyond the uncertainty.', word(RULES)),
        factor: key('Width of the guard band, in standard uncertainties; 2 unless said.', amount),
        precision: key('How figures scatter over repeated trials, as the command precision writes it.', () =>
          precisionSchema(catalogue),
        ),
      }),
    ),
    reference_coverage: key(
      'Coverage yields are normalised to, in percent of the page; 5 unless said.',
      positive({ unit: '%', greatest: 100 }),
    ),
    non_image_usage: key(
      'Name of a file that the command forecast wrote: toner a page at zero coverage, for trials that do not give it themselves.',
      usageFile,
    ),
  };
  for (const figure of catalogue) {
    keys[figure.name] = key(`${figure.title}, in ${figure.unit}.`, () =>
      z.deferred(() => {
        const limit = limitSchema(figure);
        return z.union([limit, z.array(limit)]);
      }),
    );
  }
  return section(keys);
};

/** `limits` of a trial: a set, the name of a file or preset, or a list of these. */
export const limitsSchema = (catalogue: Catalogue) => {
  const set = once(() => limitSetSchema(catalogue));
  const entry = () => oneOf(title, set);
  return oneOf(title, set, () => z.array(entry()));
};

/** `stated` of a trial: figures as a draft report states them. */
export const statedSchema = (catalogue: Catalogue) => {
  const keys: Parameters<typeof section>[0] = {};
  for (const figure of catalogue) {
    keys[figure.name] = key(`${figure.title} as stated, in ${figure.unit}.`, () => {
      const value = valueOf(figure);
      const one = once(() =>
        oneOf(value, () =>
          section({
            value: filled('The figure as stated.', value),
            of: key('Slot, cartridge, patch, stage or part it is stated of.', text),
            stat: key('Least, greatest or mean.', word(STATS)),
          }),
        ),
      );
      return oneOf(one, () => z.array(one()));
    });
  }
  return section(keys);
};

/** A limit as read. */
export interface LimitData {
  readonly min?: Quantity | null;
  readonly max?: Quantity | null;
  readonly of?: string | null;
  readonly stat?: Stat | null;
  readonly effect?: (typeof EFFECTS)[number] | null;
  readonly weight?: (typeof WEIGHTS)[number] | null;
}

/** The precision of one figure as read. */
export interface PrecisionEntry {
  readonly of?: string | null;
  readonly sd?: Quantity | null;
  readonly degrees_of_freedom?: Quantity | null;
}

export type PrecisionData = Readonly<
  Record<string, PrecisionEntry | readonly PrecisionEntry[] | null | undefined>
>;

/** A limit set as read. The keys are those of the catalogue, so its type is written out here. */
export type LimitSetData = {
  readonly decision?: {
    readonly rule?: (typeof RULES)[number] | null;
    readonly factor?: Quantity | null;
    readonly precision?: PrecisionData | null;
  } | null;
  readonly reference_coverage?: Quantity | null;
  readonly non_image_usage?: string | null;
} & Readonly<Record<string, LimitData | readonly LimitData[] | null | undefined | object>>;

export type LimitsData = string | LimitSetData | readonly (string | LimitSetData)[];
