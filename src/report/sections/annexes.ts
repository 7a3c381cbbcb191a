import { budgetOf } from '../../figures/budget.ts';
import { isDerived } from '../../figures/figure.ts';
import type { Assessed } from '../../judge/assess.ts';
import type { Reading, Run, Trial } from '../../trial/trial.ts';
import { inputName } from '../../output/input-name.ts';
import { brief } from '../../uncertainty/decimal.ts';
import { dotted } from '../../uncertainty/path.ts';
import { type Block, paragraph, type Section, table } from '../content.ts';
import { asWritten } from '../as-written.ts';
import { asShown, counterOf } from '../counter.ts';
import { amount, subject } from '../figure-words.ts';
import { withoutKeys } from '../plain-names.ts';
import { typeset } from '../typeset.ts';
import { unitWord, withUnit } from '../values.ts';

/** More rows than this are counted, not listed; they are in the trial's own file. */
const MOST_ROWS = 200;

const cut = (rows: readonly string[][], what: string): { rows: string[][]; more: Block[] } => ({
  rows: rows.slice(0, MOST_ROWS),
  more:
    rows.length > MOST_ROWS
      ? [paragraph(`And ${rows.length - MOST_ROWS} more ${what}, in the trial’s own file.`)]
      : [],
});

/** What the instruments showed: meter, weights and air, as they went into the figures. */
export function rawReadings({ trial }: Assessed): Section {
  const { run, reference, data } = trial;
  const counter = counterOf(data.meter);
  const readings = cut(
    [
      ...readingsOf(trial, run, counter),
      ...(reference ? readingsOf(trial, reference, counterOf(data.reference?.meter ?? null)) : []),
    ],
    'readings',
  );
  const air = cut(airOf(trial), 'readings of the air');
  return {
    title: 'Raw readings',
    annex: true,
    blocks: [
      ...table(
        'Meter and weights',
        [{ text: 'reading' }, { text: 'value', numeric: true }, { text: 'unit' }],
        readings.rows,
      ),
      ...readings.more,
      ...table(
        'The air',
        [
          { text: 'when' },
          { text: 'temperature, °C', numeric: true },
          { text: 'relative humidity, %', numeric: true },
        ],
        air.rows,
      ),
      ...air.more,
    ],
  };
}

function readingsOf(trial: Trial, run: Run, counter: number | null): string[][] {
  const { meter, containers, batches, cartridges } = run;
  const told = (unit: string, readings: readonly (Reading | null)[]): string[][] =>
    readings.flatMap((reading) => {
      const measured = reading?.measured;
      if (reading === null || !measured) return [];
      const U = measured.u.times(2);
      const counted = measured.value.toNumber();
      const rolled = unit === 'clicks' && asShown(counted, counter) !== counted;
      const value = rolled
        ? `${asShown(counted, counter)}, counted on as ${brief(measured.value)}`
        : asWritten(trial, reading);
      const said = U.isZero() ? value : `${value} ± ${U.toSignificantDigits(2).toFixed()}`;
      const single = (reading.repeats ?? []).map((one) => brief(one.value)).join(', ');
      const name = `${withoutKeys(dotted(reading.path))}${single === '' ? '' : `, mean of ${single}`}`;
      return [[name, typeset(said), unitWord(unit)]];
    });
  return [
    ...told('clicks', [meter.start, ...batches.map(({ end }) => end), meter.end]),
    ...told('g', [
      ...containers.map(({ tare }) => tare),
      ...batches.flatMap(({ containerMass, cartridgeMasses }) => [
        containerMass,
        ...cartridgeMasses.values(),
      ]),
      ...containers.map(({ final }) => final),
      ...cartridges.flatMap(({ startMass, endMass, fillMass, residualMass }) => [
        startMass,
        endMass,
        fillMass,
        residualMass,
      ]),
    ]),
    ...told(
      '%',
      cartridges.flatMap(({ gauge }) => [gauge.start, gauge.end]),
    ),
  ];
}

const airOf = (trial: Trial): string[][] =>
  trial.run.ambient.flatMap(({ at, temperature, humidity }, index) => {
    const [degrees = '', percent = ''] = [temperature, humidity].map((one) =>
      one === null ? '' : asWritten(trial, one),
    );
    return degrees + percent === ''
      ? []
      : [[at?.text.replace('T', ' ') ?? `reading ${index + 1}`, degrees, percent]];
  });

/** Inputs of one figure that are listed; what is left is told in one row. */
const MOST_INPUTS = 6;

/** Where the uncertainty of every judged figure comes from. */
export function budgets({ judged }: Assessed): Section {
  const figures = [...new Set(judged.map(({ derived }) => derived))].flatMap((derived) => {
    const { result } = derived;
    return isDerived(result) && !result.u.isZero() ? [{ ...derived, result }] : [];
  });
  const rows = figures.flatMap((one) => {
    const what = `${subject(one)}, ${withUnit(one)}`;
    const shares = budgetOf(one.result);
    const shown = shares.slice(0, MOST_INPUTS);
    const rest = shares.slice(MOST_INPUTS).reduce((sum, { share }) => sum + share, 0);
    return [
      ...shown.map(({ input, contribution, share }) => [
        what,
        withoutKeys(inputName(input)),
        typeset(`${Number(Number(input.u.toFixed(12)).toPrecision(2))} ${unitWord(input.unit)}`.trimEnd()),
        amount(String(Number(contribution.toPrecision(2))), one.unit),
        `${(share * 100).toFixed(share < 0.1 ? 1 : 0)} %`,
      ]),
      ...(rest > 0
        ? [[what, `${shares.length - shown.length} more`, '', '', `${(rest * 100).toFixed(1)} %`]]
        : []),
    ];
  });
  const { rows: listed, more } = cut(rows, 'rows');
  return {
    title: 'Where the uncertainty comes from',
    annex: true,
    blocks: [
      ...table(
        'Uncertainty budget of every figure that was held against a limit',
        [
          { text: 'figure' },
          { text: 'reading' },
          { text: 'its u', numeric: true },
          { text: 'brings', numeric: true },
          { text: 'share', numeric: true },
        ],
        listed,
      ),
      ...more,
      ...(rows.length > 0
        ? [
            paragraph(
              'u is the standard uncertainty of a reading; what it brings is u times its sensitivity; shares are of the variance (JCGM 100:2008, 5.1.2). U = 2u.',
            ),
          ]
        : []),
    ],
  };
}
