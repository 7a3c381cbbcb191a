import { asDecimal, Decimal, ONE, ZERO } from '../uncertainty/decimal.ts';
import { type Input, Measured } from '../uncertainty/measured.ts';
import type { Path } from '../uncertainty/path.ts';
import { isBySlot } from './by-slot.ts';
import { cartridgesOf } from './cartridges.ts';
import { inspectedOf } from './inspection.ts';
import { Instruments } from './instruments.ts';
import { paperOf } from './paper.ts';
import type { Quantity } from './quantity.ts';
import type { LimitsData } from './schema/limits.ts';
import type { RunData, TrialData } from './schema/trial.ts';
import { counted, meterOf, unrolled } from './meter.ts';
import { printsOf } from './prints.ts';
import type {
  AmbientReading,
  Batch,
  CheckWeight,
  Conditions,
  Paper,
  NonImageUsage,
  Reading,
  Run,
  RunEvent,
  Trial,
  WasteContainer,
} from './trial.ts';

/** Fills a trial in: readings with their uncertainty, defaults, cartridges with their runs. */
export function buildTrial(data: TrialData): Trial {
  const instruments = new Instruments(data.instruments);
  const alone = buildRun(data, [], data, instruments, null);
  const reference = data.reference ? buildRun(data, ['reference'], data.reference, instruments, alone) : null;
  const run = { ...alone, against: reference };
  const head = data.trial;
  return {
    title: typeof head === 'string' ? head : (head.title ?? head.id ?? ''),
    data,
    run,
    reference,
    checkWeight: checkWeightOf(data.instruments?.scale?.check, instruments),
    limits: (data.limits as LimitsData | null | undefined) ?? null,
    checked: (data.checked ?? []).map(({ reading, note, by }, index) => ({
      path: ['checked', index],
      reading,
      note,
      by: by ?? null,
    })),
    pending: instruments.pending,
  };
}

type CheckData = NonNullable<NonNullable<TrialData['instruments']>['scale']>['check'];

function checkWeightOf(check: CheckData, instruments: Instruments): CheckWeight | null {
  if (check == null) return null;
  const path: Path = ['instruments', 'scale', 'check'];
  const read = (key: 'start' | 'end'): Reading => instruments.read('scale', 'g', [...path, key], check[key]);
  return { nominal: check.nominal?.value ?? null, start: read('start'), end: read('end') };
}

/** A run with what its coverages may be off by, which the reference run takes over with them. */
interface BuiltRun extends Run {
  readonly tolerances: Tolerances;
}

/** One run. Coverage, two-sided share and paper of the reference are the candidate's unless it has its own. */
function buildRun(
  trial: TrialData,
  path: Path,
  data: RunData,
  instruments: Instruments,
  candidate: BuiltRun | null,
): BuiltRun {
  const meter = meterOf(data.meter, path, instruments);
  const paper = data.paper || !candidate ? paperOf(data.paper) : candidate.paper;
  const tolerances = data.coverage != null || !candidate ? new Tolerances() : candidate.tolerances;
  const coverages =
    data.coverage != null || !candidate
      ? coveragesOf(data.coverage, [...path, 'coverage'], pageShare(trial, paper), tolerances)
      : candidate.coverages;
  const slots = [...coverages.keys()];
  const conditions: Conditions = {
    paper,
    duplexShare:
      duplexShareOf(data.duplex_share, [...path, 'duplex_share']) ?? candidate?.duplexShare ?? NONE,
    coverages,
    coverage: bySlot(coverages, [...path, 'coverage']),
  };
  const cartridges = cartridgesOf(data, path, meter, slots, instruments);
  const head = candidate || typeof trial.trial === 'string' ? null : trial.trial;
  return {
    ...conditions,
    tolerances,
    path,
    started: head?.started ?? null,
    finished: head?.finished ?? null,
    meter,
    duplexBasis: trial.duplex_basis ?? 'pages',
    containers: containersOf(data.waste_container, [...path, 'waste_container'], instruments),
    cartridges,
    nonImageUsage: nonImageUsageOf(data.non_image_usage, [...path, 'non_image_usage']),
    ambient: ambientOf(data.ambient, [...path, 'ambient'], instruments),
    batches: batchesOf(trial, data, [...path, 'batches'], instruments, conditions, tolerances),
    events: eventsOf(data, [...path, 'events']),
    ...inspectedOf(data, path, cartridges, trial.lot?.id ?? null, instruments),
    prints: printsOf(data.prints, [...path, 'prints'], instruments),
    against: null,
  };
}

/** A coverage by its slot: its own, else the one of all slots, else one that is missing. */
function bySlot(coverages: Conditions['coverages'], path: Path): Conditions['coverage'] {
  const only = coverages.get(null);
  return (slot) =>
    coverages.get(slot) ??
    only ?? {
      path: slot === null || coverages.size === 0 ? path : [...path, slot],
      measured: null,
    };
}

/** The factor from a share of the basis to a share of the page; or the reading that is missing for it. */
function pageShare(trial: TrialData, paper: Paper): Decimal | Path {
  if (trial.coverage_basis !== 'printable') return ONE;
  const border = trial.printable_border?.value;
  if (border === undefined) return ['printable_border'];
  const inner = (side: Decimal): Decimal => side.minus(border.times(2));
  return inner(paper.width).times(inner(paper.height)).div(paper.width.times(paper.height));
}

const NONE = Measured.exact(ZERO);

const duplexShareOf = (share: Quantity | null | undefined, path: Path): Measured | null =>
  share ? Measured.exact(share.value.div(100), path) : null;

/** A document stands here only where its name is still to come: a named one was counted before. */
type CoverageValue =
  Quantity | { value: Quantity | null; tolerance?: Quantity | null } | { document: string | null };

/**
 * What the coverages of a run may be off by. The same coverage with the same tolerance, given again for a batch, is
 * that of the same document: it is one input, so that it counts once.
 */
class Tolerances {
  private readonly known = new Map<string, Input>();

  of(slot: string | null, value: Decimal, tolerance: Decimal, path: Path): Input[] {
    if (tolerance.isZero()) return [];
    const key = JSON.stringify([slot, value.toFixed(), tolerance.toFixed()]);
    const half = tolerance.toNumber();
    const input = this.known.get(key) ?? {
      path,
      value,
      unit: '%',
      u: asDecimal(half / Math.sqrt(3)),
      half,
    };
    this.known.set(key, input);
    return [input];
  }
}

function coveragesOf(
  data: RunData['coverage'],
  path: Path,
  share: Decimal | Path,
  tolerances: Tolerances,
): Map<string | null, Reading> {
  if (data == null) return new Map();
  const one = (value: CoverageValue | null, at: Path, slot: string | null): Reading => {
    if (!(share instanceof Decimal)) return { path: share, measured: null };
    if (value === null || 'document' in value) return { path: at, measured: null };
    if ('resolution' in value) return { path: at, measured: Measured.exact(value.value, at).times(share) };
    if (value.value === null) return { path: [...at, 'value'], measured: null };
    const inputs = tolerances.of(slot, value.value.value, value.tolerance?.value ?? ZERO, at);
    return { path: at, measured: Measured.reading(value.value.value, inputs, at).times(share) };
  };
  if (!isBySlot(data)) return new Map([[null, one(data as CoverageValue, path, null)]]);
  const mapped = data as Readonly<Record<string, CoverageValue | null>>;
  return new Map(Object.entries(mapped).map(([slot, value]) => [slot, one(value, [...path, slot], slot)]));
}

/** Toner at no coverage with its standard uncertainty. */
interface UsageValue {
  readonly value: Quantity | null;
  readonly u?: Quantity | null;
  readonly from?: Quantity | null;
  readonly to?: Quantity | null;
}

function nonImageUsageOf(data: RunData['non_image_usage'], path: Path): Run['nonImageUsage'] {
  if (data === undefined) return () => null;
  if (data === null) return () => ({ path, measured: null, tried: null });
  // It was found by weighing, so its digits say how well it is known: r/√12 (GUM F.2.2.1).
  const estimated = ({ value, resolution }: Quantity, at: Path): Measured => {
    const half = resolution.toNumber() / 2;
    const u = asDecimal(half / Math.sqrt(3));
    return Measured.reading(value, [{ path: at, value, unit: 'mg', u, half }], at);
  };
  const known = ({ value, u }: UsageValue, at: Path): Measured | null => {
    if (value === null || u == null) return value && estimated(value, at);
    const inputs = u.value.isZero() ? [] : [{ path: at, value: value.value, unit: 'mg', u: u.value }];
    return Measured.reading(value.value, inputs, at);
  };
  const one = (value: Quantity | UsageValue | null | undefined, at: Path): NonImageUsage | null => {
    if (value === undefined) return null;
    if (value === null) return { path: at, measured: null, tried: null };
    if ('resolution' in value) return { path: at, measured: estimated(value, at), tried: null };
    const { from, to } = value;
    return {
      path: at,
      measured: known(value, at),
      tried: from && to ? { from: from.value, to: to.value } : null,
    };
  };
  // The name of a usage file stands here only where it was not opened.
  if (typeof data === 'string') return () => null;
  if (!isBySlot(data)) return () => one(data as Quantity | UsageValue, path);
  const bySlot = data as Readonly<Record<string, Quantity | UsageValue | null>>;
  return (slot) =>
    slot === null || !Object.hasOwn(bySlot, slot) ? null : one(bySlot[slot], [...path, slot]);
}

function containersOf(
  data: RunData['waste_container'],
  path: Path,
  instruments: Instruments,
): readonly WasteContainer[] {
  if (data == null) return [];
  const list = Array.isArray(data) ? data : [data];
  return list.map((container, index) => {
    const at = Array.isArray(data) ? [...path, index] : path;
    return {
      path: at,
      tare: instruments.read('scale', 'g', [...at, 'tare'], container.tare),
      final: instruments.read('scale', 'g', [...at, 'final'], container.final),
      capacity: container.capacity?.value ?? null,
    };
  });
}

type AmbientData = NonNullable<RunData['ambient']>[number];

/** The readings of the air, in the order they were taken where every one says when. */
function ambientOf(
  data: RunData['ambient'],
  path: Path,
  instruments: Instruments,
): readonly AmbientReading[] {
  const isEmpty = (entry: AmbientData): boolean =>
    entry.at == null && entry.temperature == null && entry.humidity == null;
  const someRead = (data ?? []).some((entry) => !isEmpty(entry));
  const readings = (data ?? []).flatMap((entry, index): AmbientReading[] => {
    // A line left to be filled in is no reading once there is another; alone it is one still to be taken.
    if (someRead && isEmpty(entry)) return [];
    const at = [...path, index];
    const { temperature, humidity } = entry;
    const reading: AmbientReading = {
      path: at,
      at: entry.at ?? null,
      temperature:
        temperature === undefined
          ? null
          : instruments.read('thermometer', '°C', [...at, 'temperature'], temperature),
      humidity:
        humidity === undefined ? null : instruments.read('hygrometer', '%', [...at, 'humidity'], humidity),
    };
    return [reading];
  });
  if (readings.some(({ at }) => at === null)) return readings;
  return readings.toSorted((a, b) => (a.at?.seconds ?? 0) - (b.at?.seconds ?? 0));
}

type BatchData = NonNullable<RunData['batches']>[number];

function batchesOf(
  trial: TrialData,
  data: RunData,
  path: Path,
  instruments: Instruments,
  run: Conditions,
  tolerances: Tolerances,
): readonly Batch[] {
  return (data.batches ?? []).map((batch, index) => {
    const at = [...path, index];
    const offset = unrolled(data.meter, batch.end);
    return {
      ...conditionsOf(trial, batch, at, run, tolerances),
      path: at,
      end: instruments.read('meter', 'page', [...at, 'end'], batch.end, offset),
      containerMass: instruments.read('scale', 'g', [...at, 'container_mass'], batch.container_mass),
      cartridgeMasses: cartridgeMassesOf(batch.cartridge_mass, [...at, 'cartridge_mass'], instruments),
      other: batch.other ?? false,
      started: batch.started ?? null,
      finished: batch.finished ?? null,
    };
  });
}

/** What a batch was printed under: the run's own objects for all that it does not say. */
function conditionsOf(
  trial: TrialData,
  { coverage, duplex_share: duplex, paper: paperData }: BatchData,
  path: Path,
  run: Conditions,
  tolerances: Tolerances,
): Conditions {
  const paper = paperData ? paperOf(paperData, run.paper) : run.paper;
  const own = {
    paper,
    duplexShare: duplexShareOf(duplex, [...path, 'duplex_share']) ?? run.duplexShare,
    coverages: run.coverages,
    coverage: run.coverage,
  };
  if (coverage === undefined) return own;
  const at = [...path, 'coverage'];
  const found =
    coverage === null
      ? new Map([[null, { path: at, measured: null }]])
      : coveragesOf(coverage, at, pageShare(trial, paper), tolerances);
  const coverages = found.has(null) ? found : new Map([...run.coverages, ...found]);
  return { ...own, coverages, coverage: bySlot(coverages, at) };
}

function cartridgeMassesOf(
  data: BatchData['cartridge_mass'],
  path: Path,
  instruments: Instruments,
): Batch['cartridgeMasses'] {
  if (data === undefined) return new Map();
  const weigh = (mass: Quantity | null, at: Path): Reading => instruments.read('scale', 'g', at, mass);
  if (data === null || 'resolution' in data) return new Map([[null, weigh(data as Quantity | null, path)]]);
  const masses = Object.entries(data as Readonly<Record<string, Quantity | null>>);
  return new Map(masses.map(([slot, mass]) => [slot, weigh(mass, [...path, slot])]));
}

/** The events, in the order of the meter where every one says where it happened. */
function eventsOf(data: RunData, path: Path): readonly RunEvent[] | null {
  if (data.events == null) return null;
  const events = data.events.map((event, index): RunEvent => ({
    path: [...path, index],
    at: event.at ? counted(data.meter, event.at) : null,
    kind: event.kind,
    slot: event.slot ?? null,
  }));
  if (events.some(({ at }) => at === null)) return events;
  return events.toSorted((a, b) => (a.at && b.at ? a.at.cmp(b.at) : 0));
}
