import type { Path } from '../uncertainty/path.ts';

/** A slip of typing that breaks a line of YAML. */
export type YamlSlip =
  | 'tab'
  | 'space-after-colon'
  | 'indentation'
  | 'not-closed'
  | 'closed-twice'
  | 'not-opened'
  | 'quote'
  | 'colon'
  | 'text';

/**
 * What can be wrong with, or worth saying about, a trial: data only. `output/words.ts` puts each code
 * into words and says how to mend it; `codes.ts` says how much it weighs.
 */
export type Fault =
  // The file as a whole
  | { readonly code: 'internal-fault'; readonly why: string }
  | { readonly code: 'file-unreadable'; readonly why: string }
  | { readonly code: 'folder-unreadable'; readonly why: string }
  | { readonly code: 'no-trials-here' }
  | { readonly code: 'no-file-fits' }
  | { readonly code: 'empty-list' }
  | { readonly code: 'file-too-large' }
  | { readonly code: 'not-utf8'; readonly byte: number }
  | {
      readonly code: 'other-kind';
      readonly kind: 'pdf' | 'picture' | 'spreadsheet' | 'packed' | 'utf-16' | 'table';
    }
  | { readonly code: 'empty-file' }
  | { readonly code: 'not-yaml'; readonly yaml: string; readonly detail: string }
  | {
      readonly code: 'yaml-slip';
      readonly slip: YamlSlip;
      /** The line as it should be, without the blanks in front. */
      readonly write: string;
      /** Column it should begin in, counted from 1. */
      readonly column: number;
    }
  | { readonly code: 'cut-by-note'; readonly kept: string; readonly cut: string }
  | { readonly code: 'several-documents' }
  | { readonly code: 'nested-too-deep' }
  | { readonly code: 'too-long' }
  | { readonly code: 'too-many-entries'; readonly entries: number; readonly most: number }
  | { readonly code: 'alias' }
  | { readonly code: 'tag'; readonly tag: string }
  | { readonly code: 'key-not-text' }
  | { readonly code: 'duplicate-key'; readonly key: string; readonly firstLine: number }
  | { readonly code: 'more-problems'; readonly count: number }
  // Keys and shapes
  | {
      readonly code: 'unknown-key';
      readonly key: string;
      readonly nearest: string | null;
      readonly known: readonly string[];
      /** Sections in which it is known, each with a line that has it there. */
      readonly belongs: readonly { readonly under: string; readonly line: string }[];
      /** Nothing follows it: it may be the rest of a text that a comma cut in two. */
      readonly empty: boolean;
    }
  | { readonly code: 'split-number'; readonly written: string; readonly write: readonly string[] }
  | { readonly code: 'missing-key'; readonly key: string }
  | {
      readonly code: 'wrong-shape';
      readonly expected: readonly Shape[];
      readonly got: Shape | 'nothing';
      /** The line to write. */
      readonly write: string | null;
    }
  | {
      readonly code: 'unknown-word';
      readonly written: string;
      readonly known: readonly string[];
      readonly nearest: string | null;
    }
  | { readonly code: 'bad-slot-name'; readonly written: string }
  | { readonly code: 'empty-text' }
  | { readonly code: 'half-character'; readonly written: string }
  | { readonly code: 'hidden-character'; readonly written: string; readonly character: string }
  | {
      readonly code: 'wrong-length';
      /** Where fewer than `expected` will do, how few. */
      readonly least?: number;
      readonly expected: number;
      readonly got: number;
    }
  // Single values
  | { readonly code: 'comma'; readonly written: string; readonly write: readonly string[] }
  | { readonly code: 'grouped-digits'; readonly written: string; readonly write: readonly string[] }
  | { readonly code: 'not-a-number'; readonly written: string }
  | { readonly code: 'too-many-digits'; readonly written: string }
  | { readonly code: 'number-too-large'; readonly written: string }
  | { readonly code: 'number-too-small'; readonly written: string }
  | {
      readonly code: 'unknown-unit';
      readonly written: string;
      readonly unit: string;
      readonly accepted: readonly string[];
    }
  | {
      readonly code: 'unknown-currency';
      readonly written: string;
      readonly currency: string;
      /** The price with a code that it may have. */
      readonly write: readonly string[];
    }
  | { readonly code: 'not-whole'; readonly written: string }
  | { readonly code: 'too-low'; readonly written: string; readonly least: number; readonly unit: string }
  | { readonly code: 'too-high'; readonly written: string; readonly greatest: number; readonly unit: string }
  | { readonly code: 'not-positive'; readonly written: string }
  | {
      readonly code: 'not-a-time';
      readonly written: string;
      /** What it can mean, as ISO 8601 writes it. */
      readonly readings: readonly string[];
    }
  | { readonly code: 'no-such-time'; readonly written: string }
  | { readonly code: 'not-a-digest'; readonly written: string }
  | { readonly code: 'typed-otherwise'; readonly written: string; readonly write: string }
  // Readings against each other
  | { readonly code: 'end-below-start'; readonly start: string; readonly end: string }
  | { readonly code: 'more-digits-than-counter'; readonly written: string; readonly digits: number }
  | { readonly code: 'other-pages-exceed-run'; readonly other: string; readonly run: string }
  | { readonly code: 'other-pages-twice'; readonly other: string }
  | { readonly code: 'mass-of-which-slot'; readonly slots: readonly string[] }
  | { readonly code: 'batch-slot-unknown'; readonly slot: string; readonly slots: readonly string[] }
  | { readonly code: 'final-below-tare'; readonly tare: string; readonly final: string }
  | { readonly code: 'interim-below-tare'; readonly tare: string; readonly mass: string }
  | { readonly code: 'interim-above-final'; readonly mass: string; readonly final: string }
  | { readonly code: 'interim-falls'; readonly before: string; readonly mass: string }
  // Readings that cannot all be true
  | {
      readonly code: 'cartridge-gains';
      readonly slot: string;
      readonly before: string;
      readonly mass: string;
    }
  | {
      readonly code: 'weighed-twice-apart';
      readonly first: string;
      readonly second: string;
      readonly at: string;
    }
  | { readonly code: 'weighings-apart'; readonly written: string; readonly others: readonly string[] }
  | {
      readonly code: 'waste-rate-apart';
      /** Meter readings the stretch lies between. */
      readonly from: string;
      readonly to: string;
      /** g per thousand pages, of the stretch and of the others. */
      readonly rate: string;
      readonly others: string;
    }
  | { readonly code: 'used-beyond-fill'; readonly slot: string; readonly used: string; readonly fill: string }
  | {
      readonly code: 'used-before-beyond-fill';
      readonly slot: string;
      readonly pages: string;
      readonly used: string;
      readonly fill: string;
    }
  | { readonly code: 'no-waste'; readonly mass: string; readonly pages: string }
  | { readonly code: 'fixing-gains'; readonly before: string; readonly after: string }
  | {
      readonly code: 'rolled-over-far';
      readonly start: string;
      readonly end: string;
      readonly pages: string;
      readonly digits: number;
    }
  | {
      readonly code: 'exhausted-early';
      readonly slot: string;
      readonly used: string;
      readonly usable: string;
    }
  | {
      readonly code: 'pages-after-cartridge';
      readonly slot: string;
      readonly pages: string;
      readonly at: string;
    }
  | {
      readonly code: 'pages-after-last-batch';
      readonly pages: string;
      readonly longest: string;
      readonly at: string;
    }
  | { readonly code: 'first-batch-long'; readonly pages: string; readonly longest: string }
  | {
      readonly code: 'pages-over-target';
      readonly pages: string;
      readonly target: string;
      readonly batch: string;
    }
  | {
      readonly code: 'reading-not-of-run';
      readonly written: string;
      readonly days: number;
      readonly where: 'before' | 'after' | 'others';
    }
  | { readonly code: 'checked-unknown'; readonly reading: string; readonly nearest: string | null }
  // What no limit speaks of
  | { readonly code: 'still-in-at-end'; readonly slot: string; readonly pages: string | null }
  | {
      readonly code: 'unspoken-finding';
      readonly of: 'inspection' | 'prints';
      readonly findings: number;
    }
  | { readonly code: 'unspoken-failure'; readonly cartridges: number }
  | {
      readonly code: 'short-of-target';
      readonly pages: string;
      readonly target: string;
    }
  | { readonly code: 'outside-run'; readonly written: string; readonly start: string; readonly end: string }
  | { readonly code: 'out-of-order'; readonly before: string; readonly written: string }
  | { readonly code: 'before-fitted'; readonly written: string; readonly installed: string }
  | {
      readonly code: 'cartridges-overlap';
      readonly slot: string;
      readonly written: string;
      readonly previous: string;
    }
  | { readonly code: 'mass-rises'; readonly start: string; readonly end: string }
  | {
      readonly code: 'part-exceeds-whole';
      readonly part: string;
      readonly whole: string;
      readonly wholeKey: string;
    }
  | { readonly code: 'gauge-rises'; readonly start: string; readonly end: string }
  | { readonly code: 'exhausted-where'; readonly by: string }
  | { readonly code: 'failed-where'; readonly by: string }
  | { readonly code: 'ends-before-start'; readonly start: string; readonly end: string }
  | { readonly code: 'times-mixed'; readonly written: string; readonly first: string }
  | { readonly code: 'coverage-without-cartridge'; readonly slot: string; readonly slots: readonly string[] }
  | { readonly code: 'unknown-slot'; readonly slot: string; readonly slots: readonly string[] }
  | { readonly code: 'tolerance-exceeds-value'; readonly value: string; readonly tolerance: string }
  | { readonly code: 'border-exceeds-paper'; readonly border: string }
  | { readonly code: 'runs-overlap' }
  | { readonly code: 'patch-twice'; readonly patch: string }
  // Limits
  | { readonly code: 'limit-without-bound' }
  | { readonly code: 'effect-twice' }
  | { readonly code: 'limit-reversed'; readonly min: string; readonly max: string }
  | { readonly code: 'limit-of-whole-figure'; readonly figure: string }
  | {
      readonly code: 'limit-without-stat';
      readonly figure: string;
      readonly stat: string;
      readonly known: readonly string[];
    }
  | {
      readonly code: 'limit-of-unknown-part';
      readonly figure: string;
      readonly of: string;
      readonly parts: readonly string[];
    }
  | {
      readonly code: 'limit-not-applied';
      readonly figure: string;
      readonly of: string;
      readonly from: string;
    }
  | { readonly code: 'limit-in-two-currencies'; readonly min: string; readonly max: string }
  | { readonly code: 'limit-in-other-currency'; readonly limit: string; readonly prices: string }
  | {
      readonly code: 'limit-currency-not-applied';
      readonly limit: string;
      readonly prices: string;
      readonly from: string;
    }
  | { readonly code: 'currencies-differ'; readonly written: string; readonly first: string }
  | {
      readonly code: 'unknown-preset';
      readonly preset: string;
      readonly known: readonly string[];
      readonly nearest: string | null;
    }
  | { readonly code: 'limits-unreadable'; readonly file: string; readonly why: string }
  // Worth saying
  | {
      readonly code: 'stated-differs';
      readonly figure: string;
      readonly of: string | null;
      readonly stat: string | null;
      readonly stated: string;
      readonly derived: string;
      readonly unit: string;
      readonly slip: Slip | null;
    }
  | {
      readonly code: 'stated-as-exact';
      readonly figure: string;
      readonly of: string | null;
      readonly stat: string | null;
      readonly stated: string;
      readonly bound: 'at_least' | 'at_most';
    }
  | {
      readonly code: 'stated-in-other-currency';
      readonly figure: string;
      readonly stated: string;
      readonly prices: string;
    }
  | { readonly code: 'stated-unknown-part'; readonly figure: string; readonly of: string }
  | { readonly code: 'waste-exceeds-toner'; readonly waste: string; readonly used: string }
  | {
      readonly code: 'projections-differ';
      readonly slot: string;
      readonly mass: string;
      readonly gauge: string;
    }
  | { readonly code: 'residual-taken-as-zero'; readonly slots: readonly string[] }
  | {
      readonly code: 'far-from-reference';
      readonly slot: string;
      readonly coverage: string;
      readonly reference: string;
      readonly pages: string;
      readonly moved: readonly (readonly [share: string, pages: string])[];
    }
  | {
      readonly code: 'coverage-differs';
      readonly slot: string;
      readonly candidate: string;
      readonly reference: string;
    }
  | { readonly code: 'reference-short'; readonly pages: string; readonly trial: string }
  | { readonly code: 'other-coverage-taken'; readonly pages: string }
  | { readonly code: 'other-waste-unknown'; readonly pages: string }
  | { readonly code: 'batch-stops'; readonly batch: number; readonly stops: number; readonly all: number }
  | { readonly code: 'batch-waste'; readonly batch: number; readonly rate: string; readonly others: string }
  | {
      readonly code: 'part-reaches-life';
      readonly part: string;
      readonly life: string;
      readonly at: string | null;
      /** It was past its life when the run began. */
      readonly before: boolean;
    }
  | {
      readonly code: 'check-weight-off';
      /** g, as the others. */
      readonly shown: string;
      readonly nominal: string;
      readonly off: string;
      readonly more: boolean;
      readonly allowed: string;
    }
  | {
      readonly code: 'scale-drifts';
      /** g, as the others. */
      readonly start: string;
      readonly end: string;
      readonly drift: string;
      readonly up: boolean;
      readonly allowed: string;
    }
  | {
      readonly code: 'calibration-ended';
      readonly instrument: string;
      readonly until: string;
      readonly day: string;
    }
  | {
      readonly code: 'faster-than-rated';
      readonly pages: string;
      readonly minutes: string;
      readonly rated: string;
    }
  | { readonly code: 'fraction-for-percent'; readonly written: string; readonly percent: string }
  | { readonly code: 'sheets-differ'; readonly counted: string; readonly derived: string }
  | { readonly code: 'container-change-unlisted'; readonly changes: number; readonly listed: number }
  | {
      readonly code: 'cartridge-change-unlisted';
      readonly slot: string;
      readonly changes: number;
      readonly listed: number;
    }
  | { readonly code: 'finding-of-unknown-serial'; readonly serial: string; readonly findings: number }
  | {
      readonly code: 'delivered-beside';
      readonly cartridges: number;
      readonly worst: string;
      /** Whether they were tried here cannot be told. */ readonly untold: boolean;
    }
  | { readonly code: 'serial-twice'; readonly serial: string; readonly first: string }
  | { readonly code: 'slot-empty'; readonly slot: string; readonly from: string; readonly to: string }
  | { readonly code: 'over-capacity'; readonly waste: string; readonly capacity: string }
  | { readonly code: 'mass-implausible'; readonly written: string; readonly light: boolean }
  | {
      readonly code: 'cartridge-failed';
      readonly slot: string;
      /** Meter reading it failed at; null where none is given. */
      readonly at: string | null;
      /** Meter reading its pages are counted to, where that is later. */
      readonly until: string | null;
    }
  | { readonly code: 'usage-implausible'; readonly slot: string; readonly usage: string }
  | {
      readonly code: 'mark-repeats';
      readonly distance: string;
      /** Slot; null where the file does not say. */
      readonly of: string | null;
      /** Null where no rotating part of the machine is known. */
      readonly matches: readonly { readonly part: string; readonly turns: number }[] | null;
    }
  | { readonly code: 'readings-sorted' }
  | { readonly code: 'rolled-over'; readonly digits: number }
  | { readonly code: 'proportional-scaling'; readonly slot: string }
  | {
      readonly code: 'usage-beyond';
      readonly slot: string;
      /** Coverages tried, and those beyond: of pages, and the one that yields are carried to; in percent, as digits. */
      readonly from: string;
      readonly to: string;
      readonly pages: readonly string[];
      readonly reference: string | null;
    }
  | {
      readonly code: 'within-uncertainty';
      readonly figure: string;
      readonly of: string | null;
      readonly stat: string | null;
      readonly margin: string;
      readonly U: string;
      readonly unit: string;
      readonly probability: string;
      /** Its uncertainty is that of repeated trials. */
      readonly repeated: boolean;
    }
  | {
      readonly code: 'events-few';
      readonly figure: string;
      readonly of: string | null;
      readonly stat: string | null;
      readonly unit: string;
      /** One-sided bounds that the true rate is beyond with a probability of 2.3 % each. */
      readonly lower: string;
      readonly upper: string;
    }
  // A mix of pages
  | { readonly code: 'shares-amiss'; readonly sum: string }
  | { readonly code: 'kind-twice'; readonly kind: string }
  // Photos of a report
  | { readonly code: 'photo-unreadable'; readonly photo: string; readonly why: string }
  | { readonly code: 'photo-outside'; readonly photo: string }
  | { readonly code: 'photo-no-image'; readonly photo: string }
  | { readonly code: 'photo-too-large'; readonly photo: string; readonly mebibytes: number }
  | { readonly code: 'photos-too-large'; readonly mebibytes: number }
  // Documents whose coverage is counted
  | { readonly code: 'document-unreadable'; readonly document: string; readonly why: string }
  | { readonly code: 'document-and-value'; readonly document: string }
  | { readonly code: 'document-outside'; readonly document: string }
  | { readonly code: 'document-too-large'; readonly document: string; readonly mebibytes: number }
  | {
      readonly code: 'document-slots';
      readonly document: string;
      /** Slots that are looked for; '' is one without a name. */
      readonly slots: readonly string[];
      /** Those that were counted. */
      readonly has: readonly string[];
    }
  | {
      readonly code: 'document-counted';
      readonly document: string;
      /** In percent, as digits. */
      readonly coverages: readonly {
        readonly slot: string;
        readonly coverage: string;
        readonly tolerance: string;
      }[];
    }
  // Files that hold the toner a page takes at no coverage
  | { readonly code: 'usage-unreadable'; readonly usage: string; readonly why: string }
  | { readonly code: 'usage-outside'; readonly usage: string }
  | {
      readonly code: 'usage-amiss';
      readonly what: 'no-slots' | 'slot-twice' | 'range-reversed' | 'half-a-range';
    }
  | {
      readonly code: 'usage-slots';
      readonly usage: string;
      /** Slots that are looked for, and those of the file; '' is one without a name. */
      readonly slots: readonly string[];
      readonly has: readonly string[];
    }
  | {
      readonly code: 'usage-other-model';
      readonly usage: string;
      readonly model: string;
      readonly own: string;
    }
  | {
      readonly code: 'usage-read';
      readonly usage: string;
      readonly model: string | null;
      readonly machines: readonly string[];
      /** In mg a page and percent of the page, as digits. */
      readonly slots: readonly {
        readonly slot: string | null;
        readonly m0: string;
        readonly u: string;
        readonly cartridges: string | null;
        readonly from: string | null;
        readonly to: string | null;
      }[];
    }
  // Tables that stand in files of their own
  | { readonly code: 'table-unreadable'; readonly table: string; readonly why: string }
  | {
      readonly code: 'table-other-kind';
      readonly table: string;
      readonly kind: 'pdf' | 'picture' | 'spreadsheet' | 'packed' | 'utf-16' | 'table';
    }
  | { readonly code: 'table-outside'; readonly table: string }
  | { readonly code: 'table-too-large'; readonly table: string; readonly mebibytes: number }
  | { readonly code: 'table-too-long'; readonly table: string; readonly most: number }
  | { readonly code: 'table-empty'; readonly table: string }
  | { readonly code: 'row-without-serial' }
  | {
      readonly code: 'table-without-heading';
      readonly table: string;
      /** What stands first in it. */
      readonly first: string;
      /** Keys of which one at least must have a column. */
      readonly wanted: readonly string[];
    }
  | {
      readonly code: 'column-not-there';
      readonly table: string;
      readonly heading: string;
      readonly headings: readonly string[];
      readonly nearest: string | null;
    }
  | {
      readonly code: 'column-twice';
      readonly table: string;
      readonly key: string;
      readonly headings: readonly string[];
    }
  | {
      readonly code: 'table-row';
      /** File and line. */
      readonly at: string;
      readonly fault: 'open-quote' | 'long-line' | 'uneven';
      /** Cells it has, and those of the heading. */
      readonly got: number;
      readonly expected: number;
      /** Whether a comma stands between the cells. */
      readonly commas: boolean;
    }
  | { readonly code: 'decimals-mixed'; readonly at: string; readonly written: string }
  | { readonly code: 'decimals-unclear'; readonly at: string; readonly written: string }
  | { readonly code: 'days-mixed'; readonly at: string; readonly written: string }
  | {
      readonly code: 'days-unclear';
      readonly at: string;
      readonly written: string;
      /** What it can mean, as ISO 8601 writes it. */
      readonly readings: readonly string[];
    }
  | {
      readonly code: 'table-read';
      readonly table: string;
      readonly rows: number;
      /** Rows that are reckoned with. */
      readonly kept: number;
      readonly columns: readonly { readonly key: string; readonly headings: readonly string[] }[];
      readonly order: 'day_first' | 'month_first' | 'year_first' | null;
    }
  | { readonly code: 'to-be-read'; readonly reading: string }
  // While the run goes on
  | {
      readonly code: 'run-under-way';
      readonly pages: string;
      readonly target: string | null;
      readonly percent: string | null;
      /** Meter reading to stop at next. */
      readonly next: string | null;
      readonly batch: number | null;
    }
  | {
      readonly code: 'run-expected-end';
      /** Pages an hour so far, and printing hours that are left at that rate. */
      readonly speed: string;
      readonly hours: string;
      readonly day: string | null;
    }
  | {
      readonly code: 'waste-so-far';
      /** g, with U */
      readonly waste: readonly [value: string, U: string];
      readonly pages: string;
      /** g per thousand pages, with U */
      readonly rate: readonly [value: string, U: string];
      /** g when all pages are printed, if the rate stays; with U */
      readonly expected: readonly [value: string, U: string] | null;
    }
  | { readonly code: 'run-short-of-target'; readonly pages: string; readonly target: string }
  | {
      readonly code: 'limit-out-of-reach';
      readonly figure: string;
      readonly min: string | null;
      readonly max: string | null;
      readonly unit: string;
      /** What it comes to if nothing more happens. */
      readonly value: string;
      readonly bound: 'at_least' | 'at_most';
    }
  | {
      readonly code: 'limit-at-risk';
      readonly figure: string;
      readonly min: string | null;
      readonly max: string | null;
      readonly unit: string;
      /** What it comes to if the run goes on as it did; with U */
      readonly value: readonly [value: string, U: string];
    }
  | { readonly code: 'container-fills'; readonly at: string; readonly capacity: string }
  | { readonly code: 'no-fails-limit' };

/** A doubted reading that someone has looked at again. */
export interface Checked {
  readonly path: Path;
  /** The reading as people name it: `waste_container.final`, `batches[3].container_mass`. */
  readonly reading: string;
  /** How it was looked at. */
  readonly note: string;
  readonly by: string | null;
}

/** A slip of the hand that turns one number into another. */
export type Slip =
  | 'digits-swapped'
  | 'digit-dropped'
  | 'digit-doubled'
  | 'point-moved'
  | 'sheets-for-pages'
  | 'tare-not-taken-off'
  | 'start-and-end-exchanged'
  | 'total-for-thousand';

/** What a YAML value can be. */
export type Shape = 'value' | 'map' | 'list';

export type Code = Fault['code'];

/**
 * A fault with its place. Of a rule between two readings the place is the second reading's.
 */
export type Problem = Fault & {
  readonly path: Path;
  /** Of readings that cannot all be true: how each of them was looked at again. */
  readonly checked?: readonly Checked[];
  /** The key itself is meant, not its value. */
  readonly atKey?: boolean;
  /** Known to the YAML reader where the path cannot say it: characters from the start of the text. */
  readonly offset?: number;
};

/** Outcome of reading one value: the value, or what is wrong with it. */
export type Read<T> = { readonly value: T } | { readonly fault: Fault };
