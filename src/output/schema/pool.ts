import * as z from 'zod';
import { bound, count, countOr, decimal, decimalOr, head, list, text, textOr, u, verdict } from './parts.ts';

const pages = (description: string, none: string) =>
  decimalOr(`${description} In pages at reference coverage.`, none);

const group = {
  slot: textOr('The slot.', 'not named.'),
  lot: textOr('The lot, with --by lot.', 'lots are not kept apart, or it is not named.'),
  n: count('Cartridges pooled, those not exhausted among them.'),
  at_least: count('How many of them were not exhausted: they count at the pages they printed.'),
  failed: count('Cartridges that failed; they count in the failure share alone.'),
  machines: count('Machines that are named.'),
  mean: pages('Mean of all n.', 'nothing was pooled.'),
  sd: pages('Standard deviation of all n.', 'fewer than two.'),
  t: decimalOr('Quantile of Student’s t used for lower_bound.', 'fewer than two.'),
  confidence: decimal('Confidence of the bounds in percent.'),
  tail: z.enum(['one-sided', 'two-sided']).describe('Which side the bounds are on.'),
  lower_bound: pages(
    'Lower confidence bound of the mean: the smaller of that of all n and that of the exhausted ones alone.',
    'fewer than two were exhausted.',
  ),
  clustered_lower_bound: pages(
    'Lower confidence bound of the mean of the machines’ means. It rests on all n cartridges.',
    'a cartridge of the n was not exhausted, or its machine is not named, or there is one machine.',
  ),
  between_machine_sd: pages(
    'Standard deviation between machines, of exhausted cartridges.',
    'it cannot be told.',
  ),
  within_machine_sd: pages(
    'Standard deviation within a machine, of exhausted cartridges.',
    'it cannot be told.',
  ),
  common_u: pages(
    'Standard uncertainty that all trials share, the coverage above all.',
    'nothing was pooled.',
  ),
  tolerance_bound: pages(
    'Pages that 90 % of the cartridges exceed, with this confidence, if yields are normal.',
    'fewer than two were exhausted.',
  ),
  failure_upper_bound: decimalOr(
    'The greatest share of failures, between 0 and 1, that these cartridges leave open with this confidence.',
    'no cartridge.',
  ),
  claim: z
    .nullable(
      z.strictObject({
        pages: decimal('The yield claimed, in pages.'),
        supported: z
          .nullable(z.boolean())
          .describe('Whether these cartridges support it. Null: it cannot be decided yet.'),
      }),
    )
    .describe('The claim held against them. Null: none was made.'),
};

const beside = {
  supplier: textOr('The supplier, with --by supplier.', 'not kept apart, or not named.'),
  machine: textOr(
    'Serial of the machine, else its label, with --by machine.',
    'not kept apart, or not named.',
  ),
  month: textOr(
    'The month of the trials as 2026-03, with --by month.',
    'not kept apart, or no day is given.',
  ),
  trials: count('Trials its cartridges are of.'),
  first_day: textOr('Day of the first of them.', 'no day is given.'),
  last_day: textOr('Day of the last of them.', 'no day is given.'),
  waste_per_thousand: decimalOr(
    'Mean over these trials of their waste, in g per thousand pages.',
    'not every trial has it.',
  ),
  cost_per_thousand: decimalOr(
    'What the cartridges cost for a thousand pages they yielded, in `currency`; what failed was paid for too.',
    'not every cartridge has a price in one currency.',
  ),
  currency: textOr('ISO 4217 code of cost_per_thousand.', 'no cost.'),
  cost_bound: z
    .nullable(z.enum(['exact', 'at_most']))
    .describe(
      'at_most: some cartridges were not exhausted, and would have printed more for the same money. Null: no cost.',
    ),
};

const besideOrNot = z.strictObject(beside).partial().shape;

const against = z.strictObject({
  slot: textOr('The slot.', 'not named.'),
  n: z
    .tuple([z.int().min(0), z.int().min(0)])
    .describe(
      'Cartridges, or machines, in the first group and in the second; 0 where they cannot be compared.',
    ),
  means: z
    .tuple([z.nullable(decimal('Mean of the first.')), z.nullable(decimal('Mean of the second.'))])
    .describe('Mean yields of the first group and of the second, in pages. Null: cannot be compared.'),
  difference: decimalOr('First mean less second, in pages.', 'cannot be compared, or nothing scatters.'),
  difference_low: decimalOr('Lower end of its confidence interval.', 'as there.'),
  difference_high: decimalOr('Upper end of its confidence interval.', 'as there.'),
  ratio_low: decimalOr('Lower end of the interval of first mean / second.', 'as there, or it has no end.'),
  ratio_high: decimalOr('Upper end of it.', 'as there.'),
  t: decimalOr('Quantile of Student’s t used.', 'as there.'),
  degrees_of_freedom: decimalOr('Degrees of freedom (Welch).', 'as there.'),
  margin: decimalOr('Pages within which means count as equivalent (--margin).', 'not asked for.'),
  p: decimalOr('p of the two one-sided tests.', 'not asked for, or cannot be compared.'),
  equivalent: z
    .nullable(z.boolean())
    .describe('Whether they were shown to be equivalent. Null: not asked for, or cannot be compared.'),
});

const chart = (what: string) =>
  decimalOr(`${what} Of exact values alone, in the unit of the figure.`, 'fewer than two exact values.');

const trend = z.strictObject({
  figure: text('The figure that is followed.'),
  of: textOr('The part it is of.', 'the whole trial, or its only part.'),
  centre: chart('Mean.'),
  lower: chart('Lower control limit.'),
  upper: chart('Upper control limit.'),
  mean_moving_range: chart('Mean moving range.'),
  moving_range_upper: chart('Upper control limit of the moving range.'),
  points: list(
    z.strictObject({
      file: text('The trial.'),
      day: textOr('Its day, ISO 8601.', 'not given; such trials stand at the end.'),
      value: decimal('Its value.'),
      moving_range: decimalOr(
        'Distance from the exact value before it.',
        'the first, or the value is only a bound.',
      ),
      signals: list(
        z.enum(['above-upper', 'below-lower', 'range-above-upper', 'run-of-eight']),
        'What calls for a look; nothing of a value that is only a bound.',
      ),
      bound,
    }),
    'The trials in the order of their days.',
  ),
});

/** `pool --format json`. */
export const poolSchema = z
  .strictObject({
    ...head(1),
    groups: list(
      z.strictObject({ ...group, ...besideOrNot }),
      'A group for each slot; with --by for each slot and lot, supplier, machine or month, in the order of their names, and then with what stands beside (supplier to cost_bound).',
    ),
    against: z.optional(
      list(against, 'With --against: the two groups held against each other, slot by slot.'),
    ),
    trend: z.optional(trend.describe('With --trend: a figure over the trials.')),
  })
  .describe('Pooled yields.');
export type PoolData = z.infer<typeof poolSchema>;
export type GroupData = PoolData['groups'][number];

/** `pool --format jsonl`: a group a line. */
export const poolLineSchema = z
  .strictObject({ ...head(1), ...group, ...beside })
  .describe('A group of pooled yields, one a line.');
export type PoolLine = z.infer<typeof poolLineSchema>;

/** `pool --cartridges --format jsonl`. */
export const cartridgeSchema = z
  .strictObject({
    ...head(1),
    file: text('The trial file.'),
    trial: text('Title of the trial.'),
    id: textOr('trial.id.', 'not given.'),
    started: textOr('Day or time the trial began, as written.', 'not given.'),
    finished: textOr('Day or time it ended, as written.', 'not given.'),
    day: textOr(
      'Day the trial counts for: when it began, else ended, else its first dated reading.',
      'none is given.',
    ),
    lot: textOr('Lot of the cartridge: its own, else that of the trial.', 'neither is named.'),
    supplier: textOr('Who delivered it.', 'not known.'),
    machine: textOr('Label of the machine.', 'not given.'),
    machine_serial: textOr('Serial of the machine.', 'not given.'),
    slot: textOr('Its slot.', 'not named.'),
    of: textOr('The cartridge as figures name it: black, black#2.', 'the only one, without a slot.'),
    serial: textOr('Its serial.', 'not given.'),
    price: decimalOr('Its price in `currency`.', 'not given.'),
    currency: textOr('ISO 4217 code of the price.', 'no price.'),
    yield_at_reference: decimalOr('Yield at reference coverage, in pages.', 'it could not be derived.'),
    u: u('no yield.'),
    bound: z.nullable(bound).describe('exact, at_least or at_most. Null: no yield.'),
    failed: z.boolean().describe('It failed; its yield is not pooled.'),
    left_out: textOr('Why it is not pooled, in words.', 'it is, or it failed.'),
    waste_per_thousand: decimalOr('Waste of its trial, in g per thousand pages.', 'it could not be derived.'),
    verdict: verdict.describe('Verdict of its trial.'),
    ground: textOr('What that rests on.', 'all limits are met.'),
    caveats: list(z.string(), 'What to know before relying on the verdict.'),
  })
  .describe('One cartridge under test and what its trial says, one a line.');
export type CartridgeLine = z.infer<typeof cartridgeSchema>;

/** `precision --format json`. */
const component = (what: string) =>
  z
    .strictObject({
      sd: decimalOr('Standard deviation in the unit of the figure.', 'it cannot be told.'),
      degrees_of_freedom: count('Degrees of freedom.'),
    })
    .describe(what);

export const precisionSchema = z
  .strictObject({
    ...head(1),
    lot: textOr('The lot of all trials.', 'none is named.'),
    trials: count('Trials taken in.'),
    machines: count('Machines that are named.'),
    operators: count('Operators that are named.'),
    figures: list(
      z.strictObject({
        figure: text('The figure.'),
        of: textOr('The part it is of.', 'the whole trial.'),
        unit: text('Unit of mean and standard deviations.'),
        values: count('Values of it.'),
        trials: count('Trials that have it.'),
        mean: decimalOr('Mean.', 'no value.'),
        repeatability: component('Within one machine, by one operator.'),
        between_operators: component('Between operators.'),
        between_machines: component('Between machines.'),
        all: z
          .strictObject({
            sd: decimalOr('Standard deviation in the unit of the figure.', 'it cannot be told.'),
            degrees_of_freedom: decimalOr('Degrees of freedom.', 'as there.'),
          })
          .describe('All of them together.'),
      }),
      'Each figure that repeats.',
    ),
    too_few: list(z.string(), 'Figures with too few values, or without any scatter, in words.'),
    remarks: list(z.string(), 'What to know before these are used.'),
  })
  .describe('How figures scatter over repeated trials of one lot.');
export type PrecisionData = z.infer<typeof precisionSchema>;

const quality = z.strictObject({
  share: decimal('Share of the lot that fails, in percent.'),
  failing: count('The same in cartridges of the lot.'),
  risk: decimal('Risk, in percent.'),
});

const single = z.strictObject({
  sample: count('Cartridges to try.'),
  accept: count('It is accepted with so many failing, or fewer.'),
});

const nextOr = (none: string) =>
  z
    .nullable(
      z.strictObject({
        passes: countOr(
          'How many more must pass for it to be accepted, if none fails.',
          'no number would do.',
        ),
        failures: countOr('How many more failures would reject it.', 'no number would do.'),
      }),
    )
    .describe(`What would decide it. Null: ${none}`);

const step = z.enum(['accept', 'reject', 'go-on']);
const severity = z.enum(['critical', 'major', 'minor']);

const inspection = z.strictObject({
  inspected: count('Cartridges looked at on delivery.'),
  critical: count('Cartridges on which the worst was a critical finding.'),
  major: count('The same of major.'),
  minor: count('The same of minor.'),
  decision: z.nullable(step).describe('What it says of the lot. Null: nothing was agreed of findings.'),
  classes: list(
    z.strictObject({
      severity: severity.describe('The class.'),
      counts: list(severity, 'Findings that count in it.'),
      limiting_quality: quality.describe(
        'The share with such a finding that is not to be taken, and the risk to accept it all the same.',
      ),
      acceptable_quality: z
        .nullable(quality)
        .describe('The share that is to be taken, and the risk to reject it. Null: not agreed.'),
      plan: single.describe('The sample to look at, and how many of it may have such a finding.'),
      found: count('Cartridges that have one.'),
      decision: step.describe('What this class says of the lot.'),
      next: nextOr('it is decided.'),
      most_failing: count('The most cartridges of the lot that can have one, with `confidence`.'),
      largest_share: decimal('The same as a share of the lot, in percent.'),
      confidence: decimal('Confidence of most_failing, in percent.'),
    }),
    'What was agreed of each class of findings.',
  ),
  cartridges: list(
    z.strictObject({
      file: text('The trial that says so.'),
      cartridge: textOr('The cartridge as figures name it.', 'it was not tried.'),
      serial: textOr('Its serial.', 'not given.'),
      severity: z.enum(['none', 'minor', 'major', 'critical']).describe('The worst that was found on it.'),
      note: textOr('What that was.', 'not said.'),
    }),
    'The cartridges looked at.',
  ),
});

/** `lot --format json`. */
export const lotSchema = z
  .strictObject({
    ...head(1),
    lot: text('The lot.'),
    supplier: textOr('Who delivered it.', 'not given.'),
    size: count('Cartridges in the lot.'),
    rule: z
      .nullable(z.enum(['single', 'sequential']))
      .describe('How it is decided. Null: no limiting quality was agreed.'),
    limiting_quality: z
      .nullable(quality)
      .describe(
        'The failing share that is not to be taken, and the risk to accept it all the same. Null: not agreed.',
      ),
    acceptable_quality: z
      .nullable(quality)
      .describe(
        'The failing share that is to be taken, and the risk to reject it all the same. Null: not agreed.',
      ),
    plan: z
      .nullable(
        z.union([
          single,
          z.strictObject({
            h1: decimal('Intercept of the line of acceptance, in cartridges.'),
            h2: decimal('Intercept of the line of rejection, in cartridges.'),
            slope: decimal('Slope of both lines.'),
            accept: countOr('Failures that accept it after those tried so far.', 'none would.'),
            reject: countOr('Failures that reject it after those tried so far.', 'none would.'),
          }),
        ]),
      )
      .describe(
        'The plan by the rule: a single sample, or the lines of a sequential one. Null: nothing is decided.',
      ),
    tried: count('Cartridges that passed or failed.'),
    failed: count('How many of them failed.'),
    said_nothing: count('Cartridges whose trials decide nothing.'),
    decision: step.describe('What is to be done.'),
    by_trials: z
      .nullable(step)
      .describe('What the trials alone come to. Null: no limiting quality was agreed of them.'),
    next: nextOr('it is decided, or nothing is.'),
    most_failing: count('The most failing cartridges the lot can hold, with `confidence`.'),
    largest_share: decimal('The same as a share of the lot, in percent.'),
    confidence: decimal('Confidence of most_failing, in percent.'),
    cartridges: list(
      z.strictObject({
        file: text('The trial.'),
        cartridge: textOr('The cartridge as figures name it.', 'the only one, without a slot.'),
        serial: textOr('Its serial.', 'not given.'),
        machine: textOr('Serial of the machine, else its label.', 'not given.'),
        day: textOr('Day of the trial.', 'not given.'),
        said: z.enum(['passes', 'fails', 'says-nothing']).describe('What its trial says of it.'),
        why: textOr('Why, in words.', 'it passes.'),
      }),
      'The cartridges tried, in the order they count.',
    ),
    remarks: list(z.string(), 'What to know before relying on it.'),
    inspection: z
      .nullable(inspection)
      .describe('What was found on delivery. Null: nothing was looked at, and nothing was agreed of it.'),
  })
  .describe('A lot judged from the trials of its cartridges.');
export type LotData = z.infer<typeof lotSchema>;
