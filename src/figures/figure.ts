import type { FigureEntry, Stat, Effect } from '../trial/catalogue.ts';
import type { Time } from '../trial/time.ts';
import type { Cartridge, InspectionFinding, Patch, Reading, Run, SeenPrint } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import type { Measured } from '../uncertainty/measured.ts';
import { NotDerived, type Reason } from '../uncertainty/not-derived.ts';
import type { SeenApart } from './seen-apart.ts';

/** What a formula may depend on beside the readings of its run. */
export interface Settings {
  /** Coverage that yields are normalised to, in percent of the page. */
  readonly referenceCoverage: Decimal;
}

/** A value and when it was read; several of them have a least, a greatest and a mean. */
export interface ReadAt {
  readonly at: Time | null;
  readonly measured: Measured;
}

interface Described {
  readonly name: string;
  readonly title: string;
  /** The title where there is little space; as the title unless said. */
  readonly short?: string;
  readonly unit: string;
  /** The formula in a person's words, and in symbols over keys and figures. */
  readonly formula: {
    readonly words: string;
    readonly symbols: string;
    /** The formula as it is worked, where `symbols` says more than one; a second one where there is a choice. */
    readonly worked?: readonly string[];
  };
  /** Where the formula comes from. */
  readonly source: string;
  /** Effect of a limit that names none; it fails the trial unless said. */
  readonly effect?: Effect;
}

/** Bounds that a figure is known by better than by value ± U: exact ones for a count. */
export interface Bounds {
  readonly lower: Decimal;
  readonly upper: Decimal;
}

/** One number for the run as a whole. */
export interface RunFigure extends Described {
  readonly per: 'trial';
  /** @throws NotDerived */
  readonly derive: (run: Run, settings: Settings) => Measured;
  /** One-sided bounds, `tail` the probability beyond each; guarded limits use them in place of value ± w. */
  readonly bounds?: (run: Run, tail: number) => Bounds;
}

/** One number for each cartridge. */
export interface CartridgeFigure extends Described {
  readonly per: 'cartridge';
  /** The least over the cartridges is a figure too. */
  readonly least?: boolean;
  /** It speaks of a cartridge run to its end: of one still in when the run ended, put in for another, it says nothing. */
  readonly ofWholeRun?: boolean;
  /** It speaks of toner: of a cartridge whose life is counted in pages there is none. */
  readonly ofToner?: boolean;
  /** @throws NotDerived */
  readonly derive: (cartridge: Cartridge, run: Run, settings: Settings) => Measured;
  /** The same over all cartridges, where that means something. @throws NotDerived */
  readonly total?: (run: Run, settings: Settings) => Measured;
}

/** One number for each control patch. */
export interface PatchFigure extends Described {
  readonly per: 'patch';
  /** @throws NotDerived */
  readonly derive: (patch: Patch, run: Run) => Measured;
}

/** One severity for the inspection as a whole, and for each stage and part of it. */
export interface FindingsFigure extends Described {
  readonly per: 'findings';
  readonly derive: (findings: readonly InspectionFinding[]) => Measured;
}

/** One severity for the prints judged by eye as a whole, and for each attribute and slot of them. */
export interface PrintsFigure extends Described {
  readonly per: 'prints';
  /** @throws NotDerived */
  readonly derive: (seen: readonly SeenPrint[]) => Measured;
}

/** What a figure of prints judged by eye leaves open. */
export interface ByEye {
  /** The figure as it is if everyone who thinks better of a print is right. */
  readonly least: Measured;
  /** Prints that people see differently. */
  readonly apart: readonly SeenApart[];
  /** A print still to be judged. */
  readonly unread: SeenPrint | null;
}

/** One number for each reading of the air; the figure is the least, the greatest and the mean. */
export interface ReadingsFigure extends Described {
  readonly per: 'readings';
  /** @throws NotDerived */
  readonly derive: (run: Run) => readonly ReadAt[];
}

/** One derived number: how it is called, where it comes from, and one pure function. */
export type Figure =
  RunFigure | CartridgeFigure | PatchFigure | ReadingsFigure | FindingsFigure | PrintsFigure;

/** A figure with its value for one trial, or the reason why it has none. */
export interface Derived {
  readonly figure: Figure;
  /** The cartridge it is of; null for the whole trial. */
  readonly of: string | null;
  readonly stat: Stat | null;
  /** It is of the only cartridge of a trial that names no slots: part and whole are one. */
  readonly alone: boolean;
  /** Whether limits speak of it: of a yield, that its cartridge was to be run to its end. */
  readonly judgeable: boolean;
  /** The figure's unit; of money the currency. */
  readonly unit: string;
  readonly result: Measured | Reason;
  /** One-sided bounds with a given probability beyond each, where the figure has better ones than value ± U. */
  readonly bounds?: ((tail: number) => Bounds) | undefined;
  /** Of prints judged by eye. */
  readonly byEye?: ByEye | undefined;
}

/** Which figure, of what, and which of its readings: the same of a value and of a limit on it. */
export const figureKey = ({
  figure,
  of,
  stat,
}: Pick<Derived, 'of' | 'stat'> & { readonly figure: Pick<Figure, 'name'> }): string =>
  JSON.stringify([figure.name, of, stat]);

export const isDerived = (result: Measured | Reason): result is Measured => !('code' in result);

/**
 * The value of a reading.
 *
 * @throws NotDerived `reading-missing` while it has not been taken
 */
export function need(reading: Reading): Measured {
  if (reading.measured === null) throw new NotDerived({ code: 'reading-missing', path: reading.path });
  return reading.measured;
}

/** What the trial file's format needs to know of a figure. */
export function entryOf(figure: Figure): FigureEntry {
  return {
    name: figure.name,
    title: figure.title,
    unit: figure.unit,
    per: figure.per,
    stats:
      figure.per === 'readings'
        ? ['least', 'greatest', 'mean']
        : figure.per === 'cartridge' && figure.least
          ? ['least']
          : [],
    total:
      (figure.per === 'cartridge' && figure.total !== undefined) ||
      ['findings', 'prints'].includes(figure.per),
    effect: figure.effect ?? 'fails',
  };
}
