import { quoted, scalar } from '../text/yaml-scalar.ts';
import { ATTRIBUTES } from '../trial/schema/prints.ts';
import { CAUTIONS } from './cautions.ts';
import { looks } from './checklist.ts';

/**
 * A new trial file: commented, in the order the work is done, valid as it stands. What is not known yet is
 * left empty; what need not be said stands behind a #.
 */
export interface NewTrial {
  /** Where an editor finds the schema, seen from the new file. */
  readonly schema: string;
  readonly title: string;
  readonly id?: string | undefined;
  readonly operator?: string | undefined;
  readonly started?: string | undefined;
  readonly lot?: string | undefined;
  readonly machine?: string | undefined;
  readonly serial?: string | undefined;
  readonly speed?: string | undefined;
  /** What is planned: keys of `target` and their values as YAML. */
  readonly target: ReadonlyMap<string, string>;
  readonly coverage?: string | undefined;
  readonly duplexShare?: string | undefined;
  readonly paper?: string | undefined;
  readonly grammage?: string | undefined;
  readonly slots: readonly string[];
  /** What the supplier claims for a cartridge of a slot, and how its life is counted where that is not by toner. */
  readonly cartridge: (slot: string | null) => { readonly ratedYield?: string; readonly life?: string };
  /** Of the waste container. */
  readonly capacity?: string | undefined;
  readonly limits: readonly string[];
  /** Sections of an earlier trial, as they stand there. */
  readonly carried: ReadonlyMap<Carried, readonly string[]>;
  /** The earlier trial. */
  readonly from: string | null;
  /** What is taken over from it beside whole sections. */
  readonly alsoTaken: readonly string[];
}

/** What a new trial may take over from an earlier one. */
export const CARRIED = [
  'target',
  'machine',
  'instruments',
  'paper',
  'limits',
  'printing',
  'coverage',
  'coverage_basis',
  'printable_border',
  'non_image_usage',
  'duplex_share',
  'duplex_basis',
] as const;
export type Carried = (typeof CARRIED)[number];

/** Comments that a new trial is given, and that are not taken over from one that was begun so. */
export const OWN_COMMENT = /^# (---|From |yaml-language-server:)/;

export function newTrial(trial: NewTrial): string {
  const { carried, from } = trial;
  /** A section of the earlier trial, or its lines in a new one. */
  const section = (name: Carried, lines: readonly string[], hint?: string): string[] => {
    const earlier = carried.get(name);
    if (earlier === undefined) return [...lines];
    return hint === undefined ? [...earlier] : [`# From the earlier trial: ${hint}.`, ...earlier];
  };
  const lines = [
    `# yaml-language-server: $schema=${trial.schema}`,
    '# Fill this in as the work goes on. An empty value is a reading still to be taken; a line behind # is',
    '# something more that may be said. "tallytare plan" makes the work sheet, "tallytare verdict" says at any',
    '# time how it stands and what is still to be read.',
    ...(from === null
      ? []
      : [`# Taken over from ${scalar(from)}: ${[...carried.keys(), ...trial.alsoTaken].join(', ')}.`]),
    '',
    '# --- What is tried ---',
    'trial:',
    `  title: ${scalar(trial.title)}`,
    entry('  id', trial.id, '  # id: QS-0413'),
    `  started: ${scalar(trial.started)}`,
    '  finished:',
    `  operator: ${scalar(trial.operator)}`,
    '',
    trial.lot === undefined
      ? '# lot: {id: K-20, supplier: Millrace Works, size: 400, sampled: 4}'
      : `lot: {id: ${quoted(trial.lot)}}`,
    '',
    '# --- What is planned ---',
    ...section('target', target(trial.target)),
    '',
    '# --- What it must keep to: limits, a file, a preset (laboratory, office), or a list of these ---',
    ...section('limits', limits(trial)),
    '',
    '# --- The machine, and what the readings are taken with ---',
    ...section('machine', machine(trial), 'add to "used" what the parts have done since'),
    '',
    ...section(
      'instruments',
      [
        '# instruments:',
        '#   scale: {id: BAL-2, max_error: 1 g, calibrated_until: 2027-01-31}',
        '#   thermometer: {id: TH-7, max_error: 0.3 °C, calibrated_until: 2027-01-31}',
        '#   hygrometer: {id: TH-7, max_error: 2 %, calibrated_until: 2027-01-31}',
      ],
      'check the calibration',
    ),
    '',
    '# --- How it is printed ---',
    ...section('coverage', coverage(trial)),
    ...section('coverage_basis', []),
    ...section('printable_border', []),
    ...section('non_image_usage', []),
    ...section('duplex_share', [`duplex_share: ${scalar(trial.duplexShare ?? '0 %')}`]),
    ...section('duplex_basis', []),
    ...section('paper', [paper(trial)]),
    '',
    ...section('printing', [
      '# printing: {document: control-suite-5.pdf, mode: semi_continuous, pages_per_job: 5}',
    ]),
    '',
    '# --- Before the run: look, weigh, fit, read the meter ---',
    ...CAUTIONS.map((caution) => `# ${caution}`),
    'inspection:',
    '  # Every part that is looked at: none, minor, major or critical, and a note. What the machine has not is taken out.',
    ...looks().map(({ stage, part }) => `  - {stage: ${stage}, part: ${scalar(part)}, severity: }`),
    'cartridges:',
    ...(trial.slots.length === 0 ? [null] : trial.slots).flatMap((slot) => cartridge(slot, trial)),
    'waste_container:',
    '  tare:',
    '  final:',
    entry('  capacity', trial.capacity, '  # capacity: 600 g'),
    'meter:',
    '  start:',
    '  end:',
    '',
    '# --- During the run: one entry at every checkpoint, every reading of the air, everything that happened ---',
    'batches:',
    '  # - {end: 113480, started: 2026-03-09T09:10, finished: 2026-03-09T10:05, container_mass: 655 g}',
    'ambient:',
    '  - {temperature: , humidity: }',
    '  # - {at: 2026-03-09T09:05, temperature: 21.4 °C, humidity: 46 %}',
    '# [] when nothing happened',
    'events:',
    '  # - {at: 113122, kind: jam, note: second tray}',
    '',
    '# --- After the run: the weights and the meter above, the prints, the inside of the cold machine ---',
    'prints:',
    '  # patches:',
    '  #   - {patch: black solid, slot: black, first: {density: 1.40}, last: {density: 1.37}}',
    '  # background: 0.01',
    '  # fixing: {before: 1.38, after: 1.31}',
    '  # By eye, held against the reference print: none, minor, major or critical. A second person adds lines of',
    '  # their own, with "by"; what is not looked at is taken out.',
    '  by_eye:',
    ...ATTRIBUTES.map((attribute) => `    - {attribute: ${attribute}, stage: last, severity: }`),
    '# What is found inside goes under "inspection" above: severity: minor, note: light dust',
    '',
    '# --- What a draft report states, to be checked ---',
    '# stated: {pages: 18000, waste_per_thousand: 17.1 g}',
  ];
  return `${lines.map((line) => line.trimEnd()).join('\n')}\n`;
}

/** A key with its value, or the comment that stands for it. */
const entry = (key: string, value: string | undefined, comment: string): string =>
  value === undefined ? comment : `${key}: ${scalar(value)}`;

/** Keys of what is planned, and an example of those that need not be said. */
const TARGET: readonly (readonly [key: string, example: string | null])[] = [
  ['pages', null],
  ['batch', '1000'],
  ['hours_per_day', '6'],
  ['control_pages', '20'],
  ['waste_per_thousand', '20 g'],
  ['toner_per_page', '38 mg'],
  ['claim', '10000'],
  ['expected_yield', '10800'],
  ['expected_sd', '350'],
  ['expected_machine_sd', '100'],
  ['lot', '{limiting_quality: 10 %, consumer_risk: 10 %, acceptable_quality: 1 %, producer_risk: 5 %}'],
];

function target(planned: NewTrial['target']): string[] {
  const known = TARGET.map(([key, example]) => {
    const value = planned.get(key);
    return value === undefined && example !== null ? `  # ${key}: ${example}` : `  ${key}: ${value ?? ''}`;
  });
  const further = [...planned].filter(([key]) => !TARGET.some(([one]) => one === key));
  return ['target:', ...known, ...further.map(([key, value]) => `  ${key}: ${value}`)];
}

function machine({ machine: label, serial, speed }: NewTrial): string[] {
  return [
    'machine:',
    `  label: ${scalar(label)}`,
    `  serial: ${serial === undefined ? '' : quoted(serial)}`,
    entry('  rated_speed', speed, '  # rated_speed: 30'),
    '  # parts:',
    '  #   - {part: fuser, rated_life: 200000, used: 96000}',
    '  # rotating_parts: {drum: 30 mm}',
  ];
}

function limits({ limits }: NewTrial): string[] {
  if (limits.length > 0) return [`limits: [${limits.map(scalar).join(', ')}]`];
  return [
    'limits:',
    '  # waste_per_thousand: {max: 25 g}',
    '  # yield_at_reference: {min: 15000}',
    '  # failed_cartridges: {max: 0}',
    '  # worst_finding: {max: minor}',
    '  # worst_print: {max: minor}',
    '  # temperature: {min: 18 °C, max: 26 °C}',
  ];
}

const coverage = ({ coverage: share, slots }: NewTrial): string[] =>
  slots.length < 2
    ? [`coverage: ${scalar(share ?? '5 %')}`]
    : ['coverage:', ...slots.map((slot) => `  ${scalar(slot)}: ${scalar(share ?? '5 %')}`)];

const paper = ({ paper: size = 'A4', grammage = '80 g/m²' }: NewTrial): string =>
  `paper: {size: ${scalar(size)}, grammage: ${scalar(grammage)}}`;

function cartridge(slot: string | null, { lot, cartridge: known }: NewTrial): string[] {
  const { ratedYield, life } = known(slot);
  return [
    slot === null ? '  - serial:' : `  - slot: ${scalar(slot)}`,
    ...(slot === null ? [] : ['    serial:']),
    ...(lot === undefined ? [] : [`    lot: ${quoted(lot)}`]),
    ...(life === undefined ? [] : [`    life: ${life}`]),
    entry('    rated_yield', ratedYield, '    # rated_yield: 10500'),
    // A drum or a belt is not weighed.
    ...(life === undefined ? ['    start_mass:', '    end_mass:'] : []),
    '    # exhausted_at: the meter reading at toner out or fade; toner low is a warning only',
  ];
}
