import type { Catalogue } from '../catalogue.ts';
import { limitsSchema, statedSchema } from './limits.ts';
import {
  amount,
  count,
  digest,
  filled,
  flag,
  key,
  length,
  must,
  once,
  oneMass,
  oneOf,
  pageCount,
  positive,
  quantity,
  section,
  somePages,
  text,
  time,
  name,
  neededName,
  title,
  word,
} from './leaf.ts';
import { meterSchema, runKeys } from './run.ts';
import * as z from './zod.ts';

/** The schema of a trial file: every key of the format, in the order the work is done. */

const headSchema = () => oneOf(title, () => headMap());

const headMap = () =>
  section({
    id: key('Number or code the trial is filed under.', text),
    title: key('What was tried, in a line.', text),
    started: key('When the trial began.', time),
    finished: key('When the trial ended.', time),
    operator: key('Who did it.', text),
    note: key('Anything worth keeping.', text),
  });

const lotSchema = () =>
  section({
    id: key('Lot number.', name),
    supplier: key('Who delivered it.', text),
    size: key('Cartridges in the lot.', count),
    sampled: key('Cartridges taken from it.', count),
  });

const machineSchema = () =>
  section({
    label: key('Name of the machine in the house.', name),
    serial: key('Serial number of the machine.', name),
    model: key('Model of the machine; trials of two models make no common forecast.', name),
    firmware: key('Firmware version.', text),
    rated_speed: key('Pages per minute the machine is rated for.', positive({ unit: '1' })),
    rotating_parts: key(
      'Diameters of rotating parts, in mm, by name: a mark that repeats points to one of them.',
      () => z.record(neededName(), z.nullable(positive({ unit: 'mm' })())),
    ),
    parts: key('Parts with a rated life.', () =>
      z.array(
        section({
          part: filled('Name of the part.', neededName),
          rated_life: key('Pages it is rated for.', somePages),
          used: key('Pages it had done when the run began.', pageCount),
        }),
      ),
    ),
  });

const printingSchema = () =>
  section({
    document: key('File that was printed.', text),
    sha256: key('SHA-256 of that file, in hexadecimal.', digest),
    mode: key('Whether the machine rested between jobs.', word(['continuous', 'semi_continuous'])),
    pages_per_job: key('Pages in one job.', pageCount),
    settings: key('Printer settings used.', text),
    conditioned_hours: key('Hours paper and cartridges lay in the same air before the run.', amount),
  });

const instrumentKeys = (unit: string, difference = false) => ({
  id: key('Inventory or serial number.', text),
  resolution: key(`Smallest step it shows, in ${unit}.`, positive({ unit, difference })),
  max_error: key(
    `Largest error it may have, in ${unit}, either way.`,
    quantity({ unit, difference, least: 0 }),
  ),
  calibrated_until: key('Day its calibration ends.', time),
});

const instrument = (unit: string, difference = false) => section(instrumentKeys(unit, difference));

const scaleSchema = () =>
  section({
    ...instrumentKeys('g'),
    shared_error: key(
      'true takes its error as the same one in every weighing, so that it cancels in a difference.',
      flag,
    ),
    check: key('A check weight as the scale showed it; it is told, and corrects nothing.', () =>
      section({
        nominal: must('What the check weight is, in g.', oneMass),
        start: key('What the scale showed with it before the run, in g.', oneMass),
        end: key('What the scale showed with it after the run, in g.', oneMass),
      }),
    ),
  });

const instrumentsSchema = () =>
  section({
    scale: key('Scale for containers and cartridges.', () => scaleSchema()),
    thermometer: key('Thermometer.', () => instrument('°C', true)),
    hygrometer: key('Hygrometer.', () => instrument('%')),
    meter: key('Page counter of the machine.', () => instrument('page')),
    gauge: key('Level the machine shows.', () => instrument('%')),
    densitometer: key('Densitometer.', () => instrument('1')),
    colorimeter: key('Colorimeter.', () => instrument('1')),
    glossmeter: key('Glossmeter.', () => instrument('GU')),
  });

/** Shares that are agreed of a lot, with their risks; `which` cartridges they are of. */
const qualityKeys = (which: string) => ({
  limiting_quality: key(
    `Share of ${which}, in percent, with which a lot is not to be taken.`,
    positive({ unit: '%', greatest: 100 }),
  ),
  consumer_risk: key(
    'Chance that a lot of the limiting quality is accepted all the same, in percent; 10 unless said.',
    positive({ unit: '%', greatest: 50 }),
  ),
  acceptable_quality: key(
    `Share of ${which}, in percent, with which a lot is to be taken.`,
    positive({ unit: '%', greatest: 99 }),
  ),
  producer_risk: key(
    'Chance that a lot of the acceptable quality is rejected all the same, in percent; 5 unless said.',
    positive({ unit: '%', greatest: 50 }),
  ),
});

const targetLotSchema = () =>
  section({
    ...qualityKeys('failing cartridges'),
    inspection: key('The same for findings at delivery, by the worst severity found on a cartridge.', () =>
      section({
        critical: key('Of cartridges with a critical finding.', () => classSchema()),
        major: key('Of cartridges whose worst finding is major.', () => classSchema()),
        minor: key('Of cartridges whose worst finding is minor.', () => classSchema()),
      }),
    ),
  });

const classSchema = once(() => section(qualityKeys('cartridges with such a finding')));

const targetSchema = () =>
  section({
    pages: key('Pages to print.', somePages),
    batch: key('Pages in a batch; 1000 unless said.', somePages),
    control_pages: key('Control pages to print beside the run.', pageCount),
    waste_per_thousand: key('Waste expected per thousand pages, in g.', quantity({ unit: 'g', least: 0 })),
    toner_per_page: key('Toner expected per page, in mg.', quantity({ unit: 'mg', least: 0 })),
    hours_per_day: key('Printing hours in a day.', positive({ unit: '1', greatest: 24 })),
    spare_paper: key(
      'Paper to have beyond the need, in percent; 2 unless said.',
      quantity({ unit: '%', least: 0 }),
    ),
    claim: key('Pages the supplier wants to claim.', somePages),
    expected_yield: key('Yield expected, in pages.', positive({ unit: 'page' })),
    expected_sd: key(
      'Standard deviation expected between cartridges, in pages.',
      quantity({ unit: 'page', least: 0 }),
    ),
    expected_machine_sd: key(
      'Standard deviation expected between machines, in pages; 0 unless said.',
      quantity({ unit: 'page', least: 0 }),
    ),
    half_width: key('Half-width wanted of the interval of the mean, in pages.', positive({ unit: 'page' })),
    confidence: key('Confidence, in percent; 90 unless said.', positive({ unit: '%', greatest: 100 })),
    power: key(
      'Chance that a true claim is supported, in percent; 90 unless said.',
      positive({ unit: '%', greatest: 100 }),
    ),
    lot: key('With which share of failing cartridges a lot is taken, and at which risks.', () =>
      targetLotSchema(),
    ),
  });

const checkedSchema = () =>
  z.array(
    section({
      reading: filled('The reading, as in waste_container.final or batches[3].container_mass.', title),
      note: filled('How it was looked at again.', title),
      by: key('Who did.', text),
      at: key('When.', time),
    }),
  );

const referenceSchema = () =>
  section({
    meter: must('The machine’s page counter in the reference run.', () => meterSchema()),
    ...runKeys(),
  });

/**
 * The schema of a trial file. It is given the list of figures for `limits` and `stated`.
 *
 * Two keys are required, `trial` and `meter`; both may be filled in as the work goes on.
 */
export const trialSchema = (catalogue: Catalogue) =>
  section({
    trial: filled('What was tried: a title, or a map with it and who did it when.', () => headSchema()),
    lot: key('The lot under test.', () => lotSchema()),
    machine: key('The machine it was tried in.', () => machineSchema()),
    printing: key('How it was printed.', () => printingSchema()),
    instruments: key('What the readings were taken with.', () => instrumentsSchema()),
    meter: must('The machine’s page counter.', () => meterSchema()),
    coverage_basis: key(
      'What the coverage is a share of: the page, or its printable area; page unless said.',
      word(['page', 'printable']),
    ),
    printable_border: key('Unprintable border all round the page, in mm.', length),
    duplex_basis: key('What the duplex share is a share of; pages unless said.', word(['pages', 'sheets'])),
    ...runKeys(),
    reference: key('The same machine with the reference consumable.', () => referenceSchema()),
    stated: key('Figures as a draft report states them.', () => statedSchema(catalogue)),
    checked: key('Doubted readings that someone has looked at again, and how.', () => checkedSchema()),
    limits: key('What the figures must keep to: limits, a file, a preset, or a list of these.', () =>
      limitsSchema(catalogue),
    ),
    target: key('What is planned.', () => targetSchema()),
  });

/** What a trial file parses to. `limits` and `stated` are typed in `schema/limits.ts`. */
export type TrialData = z.output<ReturnType<typeof trialSchema>>;
/** What a run parses to: the candidate's keys that the reference has too. */
export type RunData = Pick<TrialData, 'meter' | keyof ReturnType<typeof runKeys>>;
