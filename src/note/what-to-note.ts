import type { Data } from '../text/source.ts';
import type { Kind } from '../trial/quantity.ts';
import { readTime } from '../trial/time.ts';
import { dotted, type Path } from '../uncertainty/path.ts';
import {
  asWritten,
  kindAt,
  MASS,
  METER,
  PERCENT,
  sameReading,
  TEMPERATURE,
  weighingsIn,
} from './as-written.ts';
import { type Change, changed, dataAt, type Value } from './change.ts';
import { NotTaken, type Refusal } from './refusal.ts';

/** What is to be noted, as typed. */
export interface Given {
  readonly start?: boolean;
  readonly end?: boolean;
  readonly event?: string;
  readonly finding?: string;
  /** What was looked at on a print. */
  readonly print?: string;
  readonly exhausted?: string;
  readonly meter?: string;
  /** Weighings, each with one or more values. */
  readonly container?: readonly string[];
  readonly tare?: readonly string[];
  readonly final?: readonly string[];
  /** SLOT=MASS of cartridges; of one without a slot its mass alone. */
  readonly cartridge?: readonly string[];
  readonly temperature?: string;
  readonly humidity?: string;
  readonly started?: string;
  /** The batch was printed on this meter, and is not of the trial. */
  readonly other?: boolean;
  /** Coverage of a batch; SLOT=VALUE that of one slot. */
  readonly coverage?: readonly string[];
  readonly slot?: string;
  readonly text?: string;
  readonly severity?: string;
  readonly grade?: string;
  readonly stage?: string;
  readonly batch?: string;
  readonly by?: string;
  readonly against?: string;
  readonly photo?: string;
  readonly fitted?: string;
  /** PATH=VALUE of any reading. */
  readonly reading?: readonly string[];
  /** A time that was said. */
  readonly at?: string;
  readonly correct?: boolean;
}

/** The changes a note makes, and where what it says stands then; or why it is not taken. */
export type ToNote =
  { readonly changes: readonly Change[]; readonly paths: readonly Path[] } | { readonly refusal: Refusal };

type Option = Exclude<keyof Given, 'correct'>;

/** What can be noted, one at a time, with the options that have a part in it. */
const TAKES = {
  start: ['meter', 'tare', 'cartridge'],
  end: ['meter', 'final', 'cartridge'],
  event: ['meter', 'slot', 'text'],
  finding: ['severity', 'stage', 'slot', 'text', 'photo'],
  print: ['grade', 'slot', 'stage', 'batch', 'by', 'against', 'text', 'photo'],
  exhausted: ['meter', 'by', 'cartridge', 'fitted'],
  meter: ['container', 'cartridge', 'started', 'other', 'coverage', 'text'],
  air: [],
  reading: [],
} as const satisfies Readonly<Record<string, readonly Option[]>>;
type Noted = keyof typeof TAKES;

/** The air is read beside anything; single readings may be. */
const ALWAYS: readonly Option[] = ['temperature', 'humidity', 'reading', 'at'];

/** The option that was meant. */
const INSTEAD: Readonly<Record<string, string>> = {
  'start container': '--tare',
  'start final': '--tare',
  'end container': '--final',
  'end tare': '--final',
  'meter final': '--container, or --end',
  'meter tare': '--container, or --start',
  'finding meter': '--text',
  'finding grade': '--severity',
  'event severity': '--finding',
  'print severity': '--grade',
  'print meter': '--batch',
};

const named = (option: string): string => `--${option}`;

/** Whether anything is to be noted at all. */
export const isAnyGiven = (given: Given): boolean =>
  Object.entries(given).some(
    ([option, value]) => option !== 'at' && option !== 'correct' && value !== undefined,
  );

function kindOfNote(given: Given): Noted {
  const mains = (['start', 'end', 'event', 'finding', 'print', 'exhausted'] as const).filter(
    (main) => given[main] !== undefined,
  );
  if (mains.length > 1) throw new NotTaken({ code: 'two-at-once', options: mains.map(named) });
  const [main] = mains;
  if (main !== undefined) return main;
  if (given.meter !== undefined || given.container !== undefined) return 'meter';
  if (given.temperature !== undefined || given.humidity !== undefined) return 'air';
  const [first] = (Object.keys(given) as Option[]).filter((one) => !ALWAYS.includes(one) && one in NEEDS);
  if (first !== undefined) throw new NotTaken({ code: 'lacks', of: named(first), needs: NEEDS[first] ?? '' });
  return 'reading';
}

/** What an option that says nothing by itself is said beside. */
const NEEDS: Readonly<Partial<Record<Option, string>>> = {
  tare: '--start',
  final: '--end',
  cartridge:
    '--start (of the first in its slot, before the run), --meter (on the way), --exhausted (of the one that is out) or --end (of the last in its slot, after the run)',
  started: '--meter',
  other: '--meter',
  coverage: '--meter',
  slot: '--event, --finding or --print',
  text: '--event, --finding, --print or --meter',
  severity: '--finding',
  grade: '--print',
  stage: '--finding or --print',
  batch: '--print',
  by: '--exhausted or --print',
  against: '--print',
  photo: '--finding or --print',
  fitted: '--exhausted',
};

/**
 * The changes that a note makes in a trial. `clock` is the civil time now, null where no time is to be noted.
 */
export function whatToNote(data: Data, given: Given, clock: string | null): ToNote {
  try {
    const note = new Note(data, given, clock);
    note.take();
    return { changes: note.changes, paths: note.paths };
  } catch (error) {
    if (error instanceof NotTaken) return { refusal: error.refusal };
    throw error;
  }
}

const EXHAUSTED_KEYS = ['serial', 'lot', 'rated_yield', 'start_mass', 'fill_mass', 'residual_mass', 'price'];

class Note {
  readonly changes: Change[] = [];
  readonly paths: Path[] = [];
  private timed = false;
  /** Where what was to be noted stands already. */
  private found: Path = [];

  constructor(
    private data: Data,
    private readonly given: Given,
    private readonly clock: string | null,
  ) {}

  take(): void {
    const { given } = this;
    const kind = kindOfNote(given);
    const takes: readonly Option[] = [...TAKES[kind], ...ALWAYS, kind as Option];
    for (const option of Object.keys(given) as (keyof Given)[]) {
      if (option === 'correct' || given[option] === undefined || takes.includes(option)) continue;
      const instead = INSTEAD[`${kind} ${option}`] ?? null;
      throw new NotTaken({ code: 'no-part', option: named(option), of: this.nameOf(kind), instead });
    }
    this[kind]();
    if (kind !== 'air') this.air();
    if (kind !== 'reading') this.reading();
    if (given.at !== undefined && !this.timed)
      throw new NotTaken({ code: 'no-part', option: '--at', of: this.nameOf(kind), instead: null });
    if (this.changes.length === 0) throw new NotTaken({ code: 'nothing-new', path: this.found });
  }

  private nameOf(kind: Noted): string {
    if (kind === 'meter') return 'a batch (--meter)';
    return kind === 'air' ? 'a reading of the air' : kind === 'reading' ? '--reading' : named(kind);
  }

  private start(): void {
    this.needsOneOf('start', ['meter', 'tare', 'cartridge']);
    const container = this.containers(0);
    this.quantity(['meter', 'start'], 'meter', METER);
    this.mass([...container, 'tare'], 'tare');
    this.cartridgeMasses((slot) => [...this.cartridgeIn(slot, 0), 'start_mass']);
    this.stamp('started');
  }

  private end(): void {
    this.needsOneOf('end', ['meter', 'final', 'cartridge']);
    const container = this.containers(-1);
    this.quantity(['meter', 'end'], 'meter', METER);
    this.mass([...container, 'final'], 'final');
    this.cartridgeMasses((slot) => [...this.cartridgeIn(slot, -1), 'end_mass']);
    this.stamp('finished');
  }

  /** A container of the run: of several the first or the last. */
  private containers(which: 0 | -1): Path {
    const found = dataAt(this.data, ['waste_container']);
    if (!Array.isArray(found)) return ['waste_container'];
    return ['waste_container', which === 0 ? 0 : Math.max(0, found.length - 1)];
  }

  /** When the trial began or ended, where it has a map to say so in and does not say so yet. */
  private stamp(key: 'started' | 'finished'): void {
    const head = dataAt(this.data, ['trial']);
    const time = this.time();
    if (time === null || head === null || typeof head !== 'object') return;
    const there = dataAt(head, [key]);
    const open = there == null || (typeof there === 'string' && isFinerTime(there, time));
    if (open || this.given.at !== undefined) this.put(['trial', key], time);
  }

  private meter(): void {
    this.needs('meter', 'meter');
    const { given } = this;
    const end = this.read('meter', METER) ?? '';
    const batches = this.list(['batches']);
    const ends = batches.map((batch) => this.textIn(batch, 'end'));
    const same = ends.findIndex((one) => one !== null && sameReading(one, end, METER));
    const planned = batches.findIndex((one, nth) => isMap(one) && ends[nth] === null);
    const index = same !== -1 ? same : given.correct ? ends.findLastIndex((one) => one !== null) : planned;
    const time = index === -1 || index === planned || given.at !== undefined ? this.time() : null;
    this.entry(['batches'], index, [
      ['end', end],
      ['started', this.startOfBatch(time)],
      ['finished', time],
      ['container_mass', this.weighed('container')],
      ['other', given.other ? 'true' : null],
      ['note', given.text ?? null],
    ]);
    const entry = index === -1 ? this.list(['batches']).length - 1 : index;
    this.cartridgeMasses((slot) => ['batches', entry, 'cartridge_mass', ...(slot === null ? [] : [slot])]);
    for (const { slot, value } of bySlot(given.coverage)) {
      const coverage = this.written('--coverage', value, PERCENT);
      this.put(['batches', entry, 'coverage', ...(slot === null ? [] : [slot])], coverage);
    }
  }

  /** Masses of cartridges, each at the place for its slot. */
  private cartridgeMasses(placeOf: (slot: string | null) => Path): void {
    for (const { slot, value } of bySlot(this.given.cartridge))
      this.put(placeOf(slot), this.masses('--cartridge', [value]));
  }

  /** The first or the last cartridge in a slot. @throws NotTaken where there is none */
  private cartridgeIn(slot: string | null, which: 0 | -1): Path {
    const slots = this.list(['cartridges']).map((one) => this.textIn(one, 'slot'));
    const index = which === 0 ? slots.indexOf(slot) : slots.lastIndexOf(slot);
    if (index === -1) {
      const known = [...new Set(slots.filter((one) => one !== null))];
      throw new NotTaken({ code: 'no-cartridge', slot: slot ?? '', slots: known });
    }
    return ['cartridges', index];
  }

  /** When the batch began: a time, or an hour of the day it ended on. */
  private startOfBatch(finished: string | null): string | null {
    const typed = this.given.started;
    if (typed === undefined) return null;
    const text = fullTime(typed, finished ?? this.clock);
    const read = readTime(text);
    if ('fault' in read) throw new NotTaken({ code: 'misread', option: '--started', fault: read.fault });
    return text;
  }

  private air(): void {
    const { given } = this;
    if (given.temperature === undefined && given.humidity === undefined) return;
    const time = this.time();
    const temperature = this.read('temperature', TEMPERATURE);
    const humidity = this.read('humidity', PERCENT);
    const readings = this.list(['ambient']);
    const said = (entry: Data): boolean =>
      this.textIn(entry, 'temperature') !== null || this.textIn(entry, 'humidity') !== null;
    const atOnce = (entry: Data): boolean => time !== null && this.textIn(entry, 'at') === time;
    const unsaid = (entry: Data): boolean =>
      (temperature === null || this.textIn(entry, 'temperature') === null) &&
      (humidity === null || this.textIn(entry, 'humidity') === null);
    const half = readings.findIndex((entry) => atOnce(entry) && unsaid(entry));
    const index = given.correct
      ? given.at === undefined
        ? readings.findLastIndex(said)
        : readings.findIndex(atOnce)
      : half !== -1
        ? half
        : readings.findIndex((one) => isMap(one) && !said(one) && this.textIn(one, 'at') === null);
    this.entry(['ambient'], index, [
      ['at', index !== -1 && said(readings[index] ?? null) ? null : time],
      ['temperature', temperature],
      ['humidity', humidity],
    ]);
  }

  private event(): void {
    const { event = '', slot, text, correct } = this.given;
    const at = this.read('meter', METER);
    const events = this.list(['events']);
    const alike = (one: Data): boolean =>
      this.textIn(one, 'kind') === event && this.textIn(one, 'slot') === (slot ?? null);
    const there = (one: Data): boolean => at !== null && sameReading(this.textIn(one, 'at') ?? '', at, METER);
    // What was wrong may be its kind.
    const last = events.findLastIndex(alike);
    const index = last === -1 ? events.findLastIndex(there) : last;
    this.entry(['events'], correct ? index : -1, [
      ['at', at],
      ['kind', event],
      ['slot', slot ?? null],
      ['note', text ?? null],
    ]);
  }

  private finding(): void {
    this.needs('finding', 'severity');
    const { finding = '', severity = '', stage, slot, text, correct } = this.given;
    const findings = this.list(['inspection']);
    const alike = (one: Data): boolean =>
      this.textIn(one, 'part') === finding &&
      this.textIn(one, 'slot') === (slot ?? null) &&
      (stage === undefined || this.textIn(one, 'stage') === stage);
    const planned = findings.findIndex((one) => alike(one) && this.textIn(one, 'severity') === null);
    const index = planned === -1 && correct ? findings.findLastIndex(alike) : planned;
    this.entry(['inspection'], index, [
      ['stage', stage ?? null],
      ['part', finding],
      ['slot', slot ?? null],
      ['severity', severity],
      ['note', text ?? null],
      ['photo', this.given.photo ?? null],
    ]);
  }

  /** A print judged by eye: in the line that waits for it, else in one of its own. */
  private print(): void {
    this.needs('print', 'grade');
    const { print = '', grade = '', slot, stage, batch, by, against, text, photo, correct } = this.given;
    const seen = this.list(['prints', 'by_eye']);
    const alike = (one: Data): boolean =>
      this.textIn(one, 'attribute') === print &&
      this.textIn(one, 'slot') === (slot ?? null) &&
      (stage === undefined || this.textIn(one, 'stage') === stage) &&
      (batch === undefined || this.textIn(one, 'batch') === batch) &&
      (against === undefined || (this.textIn(one, 'against') ?? 'reference') === against);
    const open = (one: Data): boolean => this.textIn(one, 'severity') === null;
    const bySame = (one: Data): boolean => by === undefined || this.textIn(one, 'by') === by;
    const waits = (one: Data): boolean => alike(one) && open(one);
    const own = seen.findIndex((one) => waits(one) && bySame(one));
    const planned = own === -1 ? seen.findIndex((one) => waits(one) && this.textIn(one, 'by') === null) : own;
    const judged = seen.findLastIndex((one) => alike(one) && !open(one) && bySame(one));
    const index = planned === -1 || (correct && judged !== -1) ? judged : planned;
    this.entry(['prints', 'by_eye'], index, [
      ['attribute', print],
      ['slot', slot ?? null],
      ['stage', stage ?? null],
      ['batch', batch ?? null],
      ['severity', grade],
      ['by', by ?? null],
      ['against', against ?? null],
      ['note', text ?? null],
      ['photo', photo ?? null],
    ]);
  }

  private exhausted(): void {
    this.needs('exhausted', 'meter');
    const { exhausted: slot = '', by } = this.given;
    const cartridge = this.cartridgeOut(slot);
    this.quantity([...cartridge, 'exhausted_at'], 'meter', METER);
    if (by !== undefined) this.put([...cartridge, 'exhausted_by'], by);
    this.cartridgeMasses((of) => {
      if (of === null || of === slot) return [...cartridge, 'end_mass'];
      throw new NotTaken({
        code: 'no-part',
        option: `--cartridge ${of}`,
        of: `--exhausted ${slot}`,
        instead: '--meter without --exhausted',
      });
    });
    if (this.given.fitted !== undefined) this.fit(slot, this.given.fitted);
  }

  /** The cartridge that is out: the last in its slot, or the one before it that is noted to have been out there. */
  private cartridgeOut(slot: string): Path {
    const last = this.cartridgeIn(slot, -1);
    if (this.given.fitted !== undefined) return last;
    const at = this.read('meter', METER) ?? '';
    const index = this.list(['cartridges']).findIndex(
      (one) =>
        this.textIn(one, 'slot') === slot && sameReading(this.textIn(one, 'exhausted_at') ?? '', at, METER),
    );
    return index === -1 ? last : ['cartridges', index];
  }

  /** A new cartridge in the slot of one that is exhausted. */
  private fit(slot: string, fitted: string): void {
    const parts = fitted.split(/,(?=\s*\w+=)/).map((part) => part.trim());
    const entry = parts.map((part): readonly [string, Value] => {
      const [, key = part, value = ''] = /^(\w+)=(.*)$/s.exec(part) ?? [];
      if (!EXHAUSTED_KEYS.includes(key) || value.trim() === '')
        throw new NotTaken({ code: 'no-key', option: '--fitted', key, known: EXHAUSTED_KEYS });
      const kind = kindAt([key]);
      return [key, this.valueOf('--fitted', value, kind)];
    });
    // It is weighed after the run where the others are.
    const weighed = [...this.list(['cartridges']), Object.fromEntries(entry.map(([key]) => [key, '']))].some(
      (one) => ['start_mass', 'end_mass'].some((key) => dataAt(one, [key]) !== undefined),
    );
    this.entry(['cartridges'], -1, [['slot', slot], ...entry], weighed ? ['end_mass'] : []);
  }

  /** Single readings by their names. */
  private reading(): void {
    for (const one of this.given.reading ?? []) {
      const [, name = one, value = ''] = /^\s*([^=]*?)\s*=(.*)$/s.exec(one) ?? [];
      const path = pathOf(name);
      if (path === null || value.trim() === '')
        throw new NotTaken({
          code: 'lacks',
          of: '--reading',
          needs: 'NAME=VALUE, as in waste_container.final=948g',
        });
      const kind = kindAt(path);
      this.put(path, this.valueOf('--reading', value, kind));
    }
  }

  private time(): string | null {
    this.timed = true;
    if (this.given.at === undefined) return this.clock;
    const text = fullTime(this.given.at, this.clock);
    const read = readTime(text);
    if ('fault' in read) throw new NotTaken({ code: 'misread', option: '--at', fault: read.fault });
    return text;
  }

  private needs(of: Noted, option: Option): void {
    if (this.given[option] === undefined)
      throw new NotTaken({ code: 'lacks', of: this.nameOf(of), needs: named(option) });
  }

  private needsOneOf(of: Noted, options: readonly Option[]): void {
    if (options.every((option) => this.given[option] === undefined))
      throw new NotTaken({ code: 'lacks', of: named(of), needs: options.map(named).join(' or ') });
  }

  /** The reading of an option, as it is written in the file; null where it was not given. */
  private read(option: 'meter' | 'temperature' | 'humidity', kind: Kind) {
    const typed = this.given[option];
    return typed === undefined ? null : this.written(named(option), typed, kind);
  }

  /** The weighings of an option: one, or a list; null where it was not given. */
  private weighed(option: 'container' | 'tare' | 'final'): Value | null {
    const typed = this.given[option];
    return typed === undefined ? null : this.masses(named(option), typed);
  }

  private masses(option: string, typed: readonly string[]): Value {
    const values = weighingsIn(typed).map((one) => this.written(option, one, MASS));
    const [only = ''] = values;
    return values.length === 1 ? only : values;
  }

  /** What was typed for a key of a kind; null where a note need not know it. */
  private valueOf(option: string, typed: string, kind: Kind | null): Value {
    if (kind === null) return typed.trim();
    return kind === MASS ? this.masses(option, [typed]) : this.written(option, typed, kind);
  }

  private written(option: string, typed: string, kind: Kind): string {
    const read = asWritten(typed, kind);
    if ('fault' in read) throw new NotTaken({ code: 'misread', option, fault: read.fault });
    return read.value;
  }

  private quantity(path: Path, option: 'meter', kind: Kind): void {
    const value = this.read(option, kind);
    if (value !== null) this.put(path, value);
  }

  private mass(path: Path, option: 'tare' | 'final'): void {
    const value = this.weighed(option);
    if (value !== null) this.put(path, value);
  }

  private list(path: Path): readonly Data[] {
    const found = dataAt(this.data, path);
    if (found == null) return [];
    if (!Array.isArray(found)) {
      const table = dataAt(found, ['file']);
      throw new NotTaken({ code: 'no-place', table: typeof table === 'string' ? table : null, path });
    }
    return found;
  }

  private textIn(entry: Data | undefined, key: string): string | null {
    const found = dataAt(entry, [key]);
    return typeof found === 'string' && found.trim() !== '' ? found.trim() : null;
  }

  /** A new entry of a list, with keys that are left empty in it; or what is said of the one at `index`. */
  private entry(
    path: Path,
    index: number,
    said: readonly (readonly [key: string, value: Value | null])[],
    empty: readonly string[] = [],
  ): void {
    const entry = said.flatMap(([key, value]) => (value === null ? [] : [[key, value] as const]));
    if (index !== -1) {
      // What is there and empty first, so that a new key comes behind all of them.
      const there = (key: string): boolean => dataAt(this.data, [...path, index, key]) !== undefined;
      const [filled, added] = [entry.filter(([key]) => there(key)), entry.filter(([key]) => !there(key))];
      for (const [key, value] of [...filled, ...added]) this.put([...path, index, key], value);
      return;
    }
    const at = [...path, this.list(path).length];
    this.make({ kind: 'add', path, entry: [...entry, ...empty.map((key) => [key, null] as const)] });
    this.paths.push(...entry.map(([key]) => [...at, key]));
  }

  /** Writes a value where none stands; another one is replaced where it was said to be wrong. */
  private put(path: Path, value: Value): void {
    const found = dataAt(this.data, path);
    const kind = kindAt(path);
    const texts = Array.isArray(found) && kind === MASS ? found : [found];
    const old = texts.map((one) => (typeof one === 'string' ? one : ''));
    if (found != null && typeof found === 'object' && texts !== found)
      throw new NotTaken({ code: 'no-place', table: null, path });
    if (old.some((one) => one.trim() !== '')) {
      this.found = path;
      const values = typeof value === 'string' ? [value] : value;
      if (old.length === values.length && old.every((one, nth) => sameReading(one, values[nth] ?? '', kind)))
        return;
      const [only = ''] = values;
      const finer = TIMES.includes(path.at(-1)) && isFinerTime(old.join(), only);
      if (!this.given.correct && !finer)
        throw new NotTaken({ code: 'already-read', is: old.join(', '), value: values.join(', '), path });
    }
    this.make({ kind: 'set', path, value });
    this.paths.push(path);
  }

  private make(change: Change): void {
    this.changes.push(change);
    this.data = changed(this.data, change);
  }
}

const isMap = (data: Data): boolean => data !== null && typeof data === 'object' && !Array.isArray(data);

/** Keys whose day may be known before the time. */
const TIMES: readonly unknown[] = ['started', 'finished'];

/** Whether a time says more exactly what a day alone says already. */
function isFinerTime(day: string, time: string): boolean {
  const [one, other] = [readTime(day), readTime(time)];
  return (
    'value' in one &&
    'value' in other &&
    one.value.kind === 'date' &&
    other.value.kind !== 'date' &&
    one.value.day === other.value.day
  );
}

/** What was typed as SLOT=VALUE, or as a value alone. */
const bySlot = (typed: readonly string[] = []): { readonly slot: string | null; readonly value: string }[] =>
  typed.map((one) => {
    const [, slot = null, value = ''] = /^(?:\s*([^=]*?)\s*=)?(.*)$/s.exec(one) ?? [];
    return { slot, value };
  });

/** A time as typed: an hour alone is of the day of another time. */
function fullTime(typed: string, day: string | null): string {
  const text = typed.trim();
  const hour = /^(\d{1,2}):(\d{2})$/.exec(text);
  if (hour === null || day === null) return text.replace(/^(\d{4}-\d{2}-\d{2}) +(?=\d{2}:)/, '$1T');
  return `${day.slice(0, 10)}T${(hour[1] ?? '').padStart(2, '0')}:${hour[2] ?? ''}`;
}

/** A name like `cartridges[2].end_mass` as a path; null where it is none. */
export function pathOf(name: string): Path | null {
  const steps = name.split('.').flatMap((part): Path => {
    const found = /^([^[\]]+)((?:\[\d+\])*)$/.exec(part);
    if (found === null) return [];
    const places = [...(found[2] ?? '').matchAll(/\d+/g)].map(([place]) => Number(place) - 1);
    return [found[1] ?? '', ...places];
  });
  return dotted(steps) === name ? steps : null;
}
