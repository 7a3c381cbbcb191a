import { printsSchema } from './prints.ts';
import {
  filled,
  flag,
  key,
  mass,
  must,
  once,
  oneOf,
  pageCount,
  percentage,
  positive,
  price,
  quantity,
  section,
  name,
  slotName,
  somePages,
  temperature,
  text,
  title,
  usageFile,
  time,
  word,
} from './leaf.ts';
import { SEVERITIES } from './severities.ts';
import { listOrTable } from './table.ts';
import * as z from './zod.ts';

/** What is recorded of one run in one machine; the candidate's run and the reference's share it. */

export const EVENT_KINDS = [
  'jam',
  'misfeed',
  'stop',
  'error',
  'shake',
  'service',
  'cartridge_change',
  'container_change',
] as const;
export type EventKind = (typeof EVENT_KINDS)[number];
export const STAGES = ['delivery', 'before', 'during', 'after'] as const;
export type Stage = (typeof STAGES)[number];
/** What the life of a cartridge is counted in. */
export const CARTRIDGE_LIVES = ['toner', 'pages'] as const;
export type CartridgeLife = (typeof CARTRIDGE_LIVES)[number];
export const PAPER_SIZES = ['A4', 'A3', 'A5', 'letter', 'legal'] as const;

export const meterSchema = () =>
  section({
    start: key('Meter reading when the run began.', pageCount),
    end: key('Meter reading when the run ended.', pageCount),
    clicks_per_page: key('What the meter counts for one page; 1 unless said.', positive({ unit: '1' })),
    digits: key(
      'Digits of the counter, where it rolled over during the run.',
      quantity({ unit: '1', whole: true, least: 1, greatest: 12 }),
    ),
    other_pages: key('Pages counted during the run that are not of the trial.', pageCount),
  });

const withTolerance = () =>
  section({
    value: must('Coverage, in percent of the page area.', percentage),
    tolerance: key('Half-width of what the coverage may be off, in percent of the page.', percentage),
  });

/** In a trial a document is counted before the schema is asked: what is here is for editors. */
const ofDocument = () =>
  section({
    document: must(
      'File name of the document as a picture, PNG or TIFF, from the folder of the trial file: its coverage is counted.',
      title,
    ),
  });

/** The coverage of a run: as it is written anywhere, or counted in a document. */
const runCoverageSchema = () => {
  const toleranced = once(() => withTolerance());
  const counted = once(() => ofDocument());
  return oneOf(percentage, toleranced, counted, () =>
    z.record(slotName(), z.nullable(z.union([percentage(), toleranced(), counted()]))),
  );
};

export const coverageSchema = () => {
  const toleranced = once(() => withTolerance());
  return oneOf(percentage, toleranced, () =>
    z.record(slotName(), z.nullable(z.union([percentage(), toleranced()]))),
  );
};

const milligrams = quantity({ unit: 'mg', least: 0 });

const withU = () =>
  section({
    value: must('Toner used per page at zero coverage, in mg.', milligrams),
    u: key('Its standard uncertainty, in mg; of its digits unless said.', milligrams),
    from: key('Least coverage it was tried at, in percent of the page.', percentage),
    to: key('Greatest coverage it was tried at, in percent of the page.', percentage),
  });

export const nonImageUsageSchema = () => {
  const known = once(() => withU());
  return oneOf(milligrams, known, usageFile, () =>
    z.record(slotName(), z.nullable(z.union([milligrams(), known()]))),
  );
};

const paperSize = (unless: string) =>
  key(`Paper size: a name, or its width and height. ${unless} unless said.`, () =>
    oneOf(word(PAPER_SIZES), () =>
      section({
        width: must('Width, in mm.', positive({ unit: 'mm' })),
        height: must('Height, in mm.', positive({ unit: 'mm' })),
      }),
    ),
  );

const paperGrammage = (unless: string) =>
  key(`Mass of the paper per area, in g/m²; ${unless} unless said.`, positive({ unit: 'g/m²' }));

export const paperSchema = () =>
  section({
    size: paperSize('A4'),
    grammage: paperGrammage('80'),
    sheets_used: key('Sheets counted as used.', quantity({ unit: 'sheet', whole: true, least: 0 })),
  });

const containerSchema = () =>
  section({
    tare: key('Mass of the empty container, in g; or a list, where it was weighed several times.', mass),
    final: key(
      'Mass of the container after the run, in g; or a list, where it was weighed several times.',
      mass,
    ),
    capacity: key('Waste it takes when full, in g.', positive({ unit: 'g' })),
    rated_life: key('Pages it is rated for.', somePages),
  });

export const wasteContainerSchema = () => {
  const container = once(() => containerSchema());
  return oneOf(container, () => z.array(container()));
};

export const cartridgesSchema = () =>
  z.array(
    section({
      slot: key('Colour position: black, cyan, magenta, yellow, or the name you use.', slotName),
      lot: key('Lot the cartridge is from.', name),
      serial: key('Serial number of the cartridge.', name),
      rated_yield: key('Pages the supplier claims for it.', somePages),
      start_mass: key(
        'Mass of the cartridge before the run, in g; or a list, where it was weighed several times.',
        mass,
      ),
      end_mass: key(
        'Mass of the cartridge after the run, in g; or a list, where it was weighed several times.',
        mass,
      ),
      fill_mass: key('Toner in the full cartridge, in g.', positive({ unit: 'g' })),
      residual_mass: key(
        'Toner left in it when exhausted, in g; or a list, where it was weighed several times.',
        mass,
      ),
      gauge: key('Level the machine shows, in percent, at start and end.', () =>
        section({
          start: key('Level at the start of its run, in %.', percentage),
          end: key('Level at the end of its run, in %.', percentage),
        }),
      ),
      used_before: key(
        'Pages it had printed before this trial, at the coverage of this run; or these and their coverage.',
        () =>
          oneOf(pageCount, () =>
            section({
              pages: must('Pages it had printed before this trial.', pageCount),
              coverage: key('Coverage of those pages, in percent of the page.', percentage),
            }),
          ),
      ),
      life: key(
        'What its life is counted in: toner, unless said; or pages, of a drum, fuser, belt or container: its yield is not scaled with coverage.',
        word(CARTRIDGE_LIVES),
      ),
      installed_at: key('Meter reading when it was fitted.', pageCount),
      removed_at: key('Meter reading when it was taken out.', pageCount),
      exhausted_at: key('Meter reading at its end of life.', pageCount),
      exhausted_by: key(
        'How its end of life showed: stop (toner out, the machine prints no more without a user’s action) or fade (clearly lighter print, over 3 mm or more). Toner low is a warning only.',
        word(['stop', 'fade']),
      ),
      failed_at: key('Meter reading when it failed.', pageCount),
      failed_by: key('How it failed.', word(['leak', 'not_recognised', 'early_stop', 'other'])),
      price: key('What it costs, with its ISO 4217 currency code.', price),
    }),
  );

export const ambientSchema = () =>
  z.array(
    section({
      at: key('When it was read.', time),
      temperature: key('Air temperature, in °C.', temperature),
      humidity: key('Relative humidity, in %.', percentage),
    }),
  );

/** A mass in grams, or a list of weighings, for every slot; of a cartridge without a slot the mass alone. */
const cartridgeMassSchema = () => oneOf(mass, () => z.record(slotName(), z.nullable(mass())));

const batchPaperSchema = () =>
  section({ size: paperSize('As the run'), grammage: paperGrammage('as the run') });

export const batchesSchema = () =>
  z.array(
    section({
      end: key('Meter reading at the end of the batch.', pageCount),
      started: key('When the batch began.', time),
      finished: key('When the batch ended.', time),
      container_mass: key(
        'Mass of the waste container at that point, in g; or a list, where it was weighed several times.',
        mass,
      ),
      cartridge_mass: key(
        'Mass of the cartridges at that point, in g, by slot; of a cartridge without a slot its mass alone.',
        () => cartridgeMassSchema(),
      ),
      coverage: key(
        'Coverage of its pages, where it is not that of the run: one value, one with its tolerance, a document to be counted, or a map by slot. A slot that is not named has the run’s.',
        () => runCoverageSchema(),
      ),
      duplex_share: key(
        'Share of its pages on two-sided sheets, in percent, where it is not that of the run.',
        percentage,
      ),
      paper: key('Paper it was printed on, where it is not that of the run.', () => batchPaperSchema()),
      other: key(
        'true for pages that are not of the trial: they wear cartridges and fill the container, and count in no figure of the pages of the trial.',
        flag,
      ),
      note: key('Anything worth keeping.', text),
    }),
  );

export const eventsSchema = () =>
  z.array(
    section({
      at: key('Meter reading when it happened.', pageCount),
      kind: filled(
        'What happened; a shake is one of the cartridge, only where its instructions describe it.',
        word(EVENT_KINDS),
      ),
      slot: key('Slot it concerns.', slotName),
      note: key('Anything worth keeping.', text),
    }),
  );

export const inspectionSchema = () =>
  z.array(
    section({
      stage: key('When it was looked at: delivery, before, during or after the run.', word(STAGES)),
      part: key('Part looked at.', name),
      slot: key('Slot it belongs to.', slotName),
      serial: key(
        'Serial number of the cartridge it is of; at delivery it may be one of the lot that is not tried here.',
        name,
      ),
      lot: key('Lot of that cartridge, where it is another than the trial’s.', name),
      severity: must('How bad the finding is.', word(SEVERITIES)),
      note: key('What was found.', text),
      photo: key('File name of a photo, from the folder of the trial file.', text),
    }),
  );

/** Keys that the candidate's run and the reference's have in common, the meter apart. */
export const runKeys = () => ({
  batches: key('Meter checkpoints inside the run, or a table of them.', () => listOrTable(batchesSchema)),
  coverage: key(
    'Share of the page area that carries toner, per colour, in percent: one value, one with its tolerance, a document in which it is counted, or a map by slot.',
    () => runCoverageSchema(),
  ),
  non_image_usage: key(
    'Toner used per page at zero coverage, in mg: one, a map by slot, or the name of a file that the command forecast wrote.',
    () => nonImageUsageSchema(),
  ),
  duplex_share: key('Share of the pages printed on two-sided sheets, in percent; 0 unless said.', percentage),
  paper: key('Paper printed on; A4 at 80 g/m² unless said.', () => paperSchema()),
  waste_container: key('Weighings of the waste container, or a list where it was changed.', () =>
    wasteContainerSchema(),
  ),
  cartridges: key('The cartridges tried.', () => cartridgesSchema()),
  ambient: key('Readings of the air: its temperature and humidity; or the table of a logger.', () =>
    listOrTable(ambientSchema),
  ),
  events: key('What happened during the run; [] when nothing did.', () => eventsSchema()),
  prints: key('What was measured and seen on the prints.', () => printsSchema()),
  inspection: key('What was looked at and found, or a table of it; [] when nothing was found.', () =>
    listOrTable(inspectionSchema),
  ),
});
