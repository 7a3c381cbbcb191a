import type { Decimal } from '../uncertainty/decimal.ts';
import type { Measured } from '../uncertainty/measured.ts';
import type { Path } from '../uncertainty/path.ts';
import type { Checked } from '../problems/problem.ts';
import type { Price, Quantity } from './quantity.ts';
import type { Attribute, HeldAgainst, PrintOfRun } from './schema/prints.ts';
import type { CartridgeLife, EventKind, Stage } from './schema/run.ts';
import type { SeverityWord } from './schema/severities.ts';
import type { LimitsData } from './schema/limits.ts';
import type { TrialData } from './schema/trial.ts';
import type { Time } from './time.ts';

/**
 * What a trial is, ready for figures: every reading a value with its uncertainty, or known to be
 * missing, and every default of the format filled in.
 */

/** A reading by its place in the file; `measured` is null while it has not been taken. */
export interface Reading {
  readonly path: Path;
  readonly measured: Measured | null;
  /** Of one thing weighed several times, the single weighings, in their order. */
  readonly repeats?: readonly Quantity[];
}

/** Coverages that toner was tried at, in percent of the page. */
export interface TriedRange {
  readonly from: Decimal;
  readonly to: Decimal;
}

/** Toner per page at zero coverage, in mg. */
export interface NonImageUsage extends Reading {
  /** Null where nothing says which coverages it was found at. */
  readonly tried: TriedRange | null;
}

/** The machine's page counter over a run. Readings are in clicks, unrolled past the counter's end. */
export interface Meter {
  readonly start: Reading;
  readonly end: Reading;
  readonly clicksPerPage: Decimal;
  readonly otherPages: Decimal;
}

export interface WasteContainer {
  readonly path: Path;
  /** g */
  readonly tare: Reading;
  /** g */
  readonly final: Reading;
  /** g of waste */
  readonly capacity: Decimal | null;
}

export interface Cartridge {
  readonly path: Path;
  /** The slot as the file names it; null where the trial names none. */
  readonly slot: string | null;
  /** `black`, `black#2`: unique in its run; null for the one cartridge of an unnamed slot. */
  readonly name: string | null;
  readonly ratedYield: Decimal | null;
  /** Pages of a drum, fuser or belt, which holds no toner and whose yield has nothing to do with coverage. */
  readonly life: CartridgeLife;
  /** g */
  readonly startMass: Reading;
  /** g */
  readonly endMass: Reading;
  /** g of toner */
  readonly fillMass: Reading;
  /** g of toner left when exhausted */
  readonly residualMass: Reading;
  /** % */
  readonly gauge: { readonly start: Reading; readonly end: Reading };
  /** Where its own run begins and ends on the meter; a reason for its absence is in the reading's path. */
  readonly from: Reading;
  readonly to: Reading;
  readonly exhausted: boolean;
  /** How it was exhausted; null where it was not, or the file does not say. */
  readonly exhaustedBy: 'stop' | 'fade' | null;
  /** Where on the meter it was taken out; null where the file does not say. */
  readonly removedAt: Reading | null;
  /** It leaked, was not recognised, or stopped early. */
  readonly failed: boolean;
  /** Where on the meter it failed; null where the file does not say. */
  readonly failedAt: Reading | null;
  readonly lot: string | null;
  readonly serial: string | null;
  /** Fitted new: not used before, gauge not below 100 %. */
  readonly fresh: boolean;
  /** What it had printed before this trial, where the file says so; coverage in percent, null for the run's. */
  readonly usedBefore: { readonly pages: Measured; readonly coverage: Measured | null } | null;
  /** False for the one cartridge assumed where the file lists none: other pages come off its run. */
  readonly listed: boolean;
  readonly price: Price | null;
}

/** One patch of one print, as its instruments see it. */
export interface Print {
  /** Reflection density */
  readonly density: Reading;
  /** CIELAB L, a, b */
  readonly lab: readonly [L: Reading, a: Reading, b: Reading];
  /** GU */
  readonly gloss: Reading;
}

/** A control patch over the trial. */
export interface Patch {
  readonly path: Path;
  readonly name: string;
  readonly slot: string | null;
  /** Printed with the reference consumable. */
  readonly reference: Print;
  readonly first: Print;
  readonly last: Print;
}

/** What was measured on the prints of a run. */
export interface Prints {
  readonly patches: readonly Patch[];
  readonly background: Reading;
  readonly fixing: { readonly before: Reading; readonly after: Reading };
  /** mm */
  readonly registration: Reading;
  /** Marks that repeat down the page. */
  readonly marks: readonly RepeatingMark[];
  /** Null where nothing was judged by eye. */
  readonly byEye: readonly SeenPrint[] | null;
}

/** A mark that returns at a distance, in mm. */
export interface RepeatingMark {
  readonly path: Path;
  readonly distance: Quantity;
  readonly slot: string | null;
  readonly note: string | null;
}

/** What one person saw on one print. */
export interface SeenPrint {
  readonly path: Path;
  readonly attribute: Attribute;
  readonly slot: string | null;
  /** The print of the run that was looked at; null where the file does not say. */
  readonly stage: PrintOfRun | null;
  /** The batch it is from, counted from 1, as written. */
  readonly batch: string | null;
  readonly against: HeldAgainst;
  /** Null while it is still to be judged. */
  readonly severity: SeverityWord | null;
  readonly by: string | null;
  readonly note: string | null;
}

/** Something that happened during a run. */
export interface RunEvent {
  readonly path: Path;
  /** Meter reading in clicks, unrolled; null where the file does not say. */
  readonly at: Decimal | null;
  readonly kind: EventKind;
  readonly slot: string | null;
}

/** Something found when the machine or the delivery was looked at. */
export interface InspectionFinding {
  readonly path: Path;
  readonly stage: Stage | null;
  readonly part: string | null;
  readonly slot: string | null;
  /** Of the cartridge it is of. */
  readonly serial: string | null;
  /** Lot of that cartridge, where it is named. */
  readonly lot: string | null;
  /** Null while it is still to be looked at. */
  readonly severity: SeverityWord | null;
  readonly note: string | null;
}

/** What pages were printed under. */
export interface Conditions {
  readonly paper: Paper;
  /** Share of the pages on two-sided sheets, or of the sheets, between 0 and 1. */
  readonly duplexShare: Measured;
  /** Coverage of a slot, in percent of the page. */
  readonly coverage: (slot: string | null) => Reading;
  /** Coverages as the file gives them, by slot. */
  readonly coverages: ReadonlyMap<string | null, Reading>;
}

/** A checkpoint inside a run; its conditions are the run's own objects where it has none of its own. */
export interface Batch extends Conditions {
  readonly path: Path;
  readonly end: Reading;
  /** g, of the waste container */
  readonly containerMass: Reading;
  /** g, of the cartridge in a slot; those that were weighed. */
  readonly cartridgeMasses: ReadonlyMap<string | null, Reading>;
  /** Printed on this meter, not of the trial. */
  readonly other: boolean;
  readonly started: Time | null;
  readonly finished: Time | null;
}

export interface AmbientReading {
  readonly path: Path;
  readonly at: Time | null;
  /** °C; null where the entry has no such key. */
  readonly temperature: Reading | null;
  /** % */
  readonly humidity: Reading | null;
}

export interface Paper {
  readonly name: string;
  /** mm */
  readonly width: Decimal;
  /** mm */
  readonly height: Decimal;
  /** g/m² */
  readonly grammage: Decimal;
}

/** One run in one machine: the candidate's, or the reference's. */
export interface Run extends Conditions {
  /** Where it stands: [] for the candidate, ['reference'] for the reference. */
  readonly path: Path;
  /** Null where the file does not say, and for the reference. */
  readonly started: Time | null;
  readonly finished: Time | null;
  readonly meter: Meter;
  readonly duplexBasis: 'pages' | 'sheets';
  readonly containers: readonly WasteContainer[];
  readonly cartridges: readonly Cartridge[];
  /** Toner per page at zero coverage, in mg; null where the file has none. */
  nonImageUsage(slot: string | null): NonImageUsage | null;
  readonly ambient: readonly AmbientReading[];
  readonly batches: readonly Batch[];
  /** In order of the meter; null where events were not recorded. */
  readonly events: readonly RunEvent[] | null;
  /** Null where nothing was recorded. */
  readonly inspection: readonly InspectionFinding[] | null;
  /** At delivery, of cartridges of the lot that are not in this run: they say nothing of it. */
  readonly delivered: readonly InspectionFinding[];
  readonly prints: Prints;
  /** The run it is held against: the reference's, for the candidate's. */
  readonly against: Run | null;
}

/** A check weight, and what the scale showed with it before and after the run. */
export interface CheckWeight {
  /** g; null where the file does not say. */
  readonly nominal: Decimal | null;
  /** g */
  readonly start: Reading;
  readonly end: Reading;
}

/** A trial, read and checked. */
export interface Trial {
  readonly title: string;
  readonly data: TrialData;
  readonly run: Run;
  readonly reference: Run | null;
  readonly limits: LimitsData | null;
  readonly checkWeight: CheckWeight | null;
  readonly checked: readonly Checked[];
  /** Readings whose key is there and empty, in file order. */
  readonly pending: readonly Path[];
}
