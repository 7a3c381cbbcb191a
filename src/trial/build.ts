import { asDecimal, Decimal, ONE, ZERO } from '../uncertainty/decimal.ts';
import { type Input, Measured } from '../uncertainty/measured.ts';
import type { Path } from '../uncertainty/path.ts';
import { cartridgesOf } from './cartridges.ts';
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
  InspectionFinding,
  Paper,
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

/** One run. Coverage, two-sided share and paper of the reference are the candidate's unless it has its own. */
function buildRun(
  trial: TrialData,
  path: Path,
  data: RunData,
  instruments: Instruments,
  candidate: Run | null,
): Run {
  const meter = meterOf(data.meter, path, instruments);
  const paper = data.paper || !candidate ? paperOf(data.paper) : candidate.paper;
  const coverages =
    data.coverage != null || !candidate
      ? coveragesOf(data.coverage, [...path, 'coverage'], pageShare(trial, paper))
      : candidate.coverages;
  const onlyCoverage = coverages.get(null);
  const slots = [...coverages.keys()];
  const head = candidate || typeof trial.trial === 'string' ? null : trial.trial;
  return {
    path,
    started: head?.started ?? null,
    finished: head?.finished ?? null,
    meter,
    paper,
    duplexShare:
      duplexShareOf(data.duplex_share, [...path, 'duplex_share']) ?? candidate?.duplexShare ?? NONE,
    duplexBasis: trial.duplex_basis ?? 'pages',
    containers: containersOf(data.waste_container, [...path, 'waste_container'], instruments),
    cartridges: cartridgesOf(data, path, meter, slots, instruments),
    coverages,
    coverage: (slot) =>
      coverages.get(slot) ??
      onlyCoverage ?? {
        path: slot === null || coverages.size === 0 ? [...path, 'coverage'] : [...path, 'coverage', slot],
        measured: null,
      },
    nonImageUsage: nonImageUsageOf(data.non_image_usage, [...path, 'non_image_usage']),
    ambient: ambientOf(data.ambient, [...path, 'ambient'], instruments),
    batches: batchesOf(data, [...path, 'batches'], instruments),
    events: eventsOf(data, [...path, 'events']),
    inspection: inspectionOf(data.inspection, [...path, 'inspection']),
    prints: printsOf(data.prints, [...path, 'prints'], instruments),
    against: null,
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

type CoverageValue = Quantity | { value: Quantity | null; tolerance?: Quantity | null };

function coveragesOf(
  data: RunData['coverage'],
  path: Path,
  share: Decimal | Path,
): Map<string | null, Reading> {
  if (data == null) return new Map();
  const one = (value: CoverageValue | null, at: Path): Reading => {
    if (!(share instanceof Decimal)) return { path: share, measured: null };
    if (value === null) return { path: at, measured: null };
    if ('resolution' in value) return { path: at, measured: Measured.exact(value.value, at).times(share) };
    if (value.value === null) return { path: [...at, 'value'], measured: null };
    const tolerance = value.tolerance?.value ?? ZERO;
    const inputs: Input[] = tolerance.isZero()
      ? []
      : [
          {
            path: at,
            value: value.value.value,
            unit: '%',
            u: asDecimal(tolerance.toNumber() / Math.sqrt(3)),
            half: tolerance.toNumber(),
          },
        ];
    return { path: at, measured: Measured.reading(value.value.value, inputs, at).times(share) };
  };
  if ('resolution' in data || 'value' in data) return new Map([[null, one(data as CoverageValue, path)]]);
  const bySlot = data as Readonly<Record<string, CoverageValue | null>>;
  return new Map(Object.entries(bySlot).map(([slot, value]) => [slot, one(value, [...path, slot])]));
}

/** Toner at no coverage with its standard uncertainty. */
interface UsageValue {
  readonly value: Quantity | null;
  readonly u?: Quantity | null;
}

function nonImageUsageOf(data: RunData['non_image_usage'], path: Path): Run['nonImageUsage'] {
  if (data == null) return () => null;
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
  const one = (value: Quantity | UsageValue | null | undefined, at: Path): Reading | null =>
    value === undefined
      ? null
      : { path: at, measured: value && ('resolution' in value ? estimated(value, at) : known(value, at)) };
  // The name of a usage file stands here only where it was not opened.
  if (typeof data === 'string') return () => null;
  if ('resolution' in data || 'value' in data) return () => one(data as Quantity | UsageValue, path);
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

function batchesOf(data: RunData, path: Path, instruments: Instruments): readonly Batch[] {
  return (data.batches ?? []).map((batch, index) => {
    const at = [...path, index];
    const offset = unrolled(data.meter, batch.end);
    return {
      path: at,
      end: instruments.read('meter', 'page', [...at, 'end'], batch.end, offset),
      containerMass: instruments.read('scale', 'g', [...at, 'container_mass'], batch.container_mass),
      started: batch.started ?? null,
      finished: batch.finished ?? null,
    };
  });
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

function inspectionOf(data: RunData['inspection'], path: Path): readonly InspectionFinding[] | null {
  if (data == null) return null;
  return data.map(({ stage, part, slot, severity, note }, index) => ({
    path: [...path, index],
    stage: stage ?? null,
    part: part ?? null,
    slot: slot ?? null,
    severity,
    note: note ?? null,
  }));
}
