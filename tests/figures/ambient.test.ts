import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { meanOfReadings } from '../../src/figures/mean-of-readings.ts';
import { type Interval, printingTimes } from '../../src/figures/printing-times.ts';
import { readTime } from '../../src/trial/time.ts';
import type { Run } from '../../src/trial/trial.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { Measured } from '../../src/uncertainty/measured.ts';
import { figure, judge, run } from '../run.ts';

/*
 * The air of a trial over the times of printing. Means are worked by hand beside each test, u with them; the readings
 * are invented.
 */

const trial = (batches: string, ambient: string, more = ''): string => `
trial: Rope Walk lot 51, machine Petrel
meter: {start: 0, end: 4000}
${batches}
ambient: [${ambient}]
limits: {temperature: {stat: mean, max: 25 °C}}
${more}
`;
const at = (time: string, temperature: string): string =>
  `{at: 2026-02-${time}, temperature: ${temperature} °C, humidity: 45 %}`;
const temperature = (text: string, stat: string): string | undefined =>
  figure(text, 'temperature', null, stat)?.value;

const TWO_DAYS =
  'batches: [{end: 2000, started: 2026-02-03T08:00, finished: 2026-02-03T16:00}, {end: 4000, started: 2026-02-04T08:00, finished: 2026-02-04T16:00}]';
/** Two days at 25.25 °C, and the night between them with the heating off. */
const NIGHT = [
  at('03T08:00', '25.2'),
  at('03T16:00', '25.3'),
  at('03T20:00', '17.0'),
  at('04T04:00', '17.0'),
  at('04T08:00', '25.2'),
  at('04T16:00', '25.3'),
].join(', ');

describe('the ambient air while pages are printed', () => {
  test('a cold night between two days of printing does not hide a room that was too warm', () => {
    const text = trial(TWO_DAYS, NIGHT);
    expect(temperature(text, 'mean')).toBe('25.25');
    expect(temperature(text, 'least')).toBe('25.2');
    expect(judge(text).verdict).toBe('inconclusive');
    const { out } = run(['verdict', 't.yaml'], { 't.yaml': text });
    expect(out.replace(/\s+/g, ' ')).toContain(
      'Read while nothing was printed, and not judged: 17 °C, 45 %.',
    );
  });

  test('nor does it make the mean uncertain: its scatter is that of the readings while pages were printed', () => {
    // Differences 0.1, −0.1, 0.1: s² = 0.03/6, u² = s²/4; four readings to 0.1 °C, a quarter each: 0.1²/12/4.
    const u = Math.sqrt(0.00125 + 0.01 / 48);
    expect(Number(figure(trial(TWO_DAYS, NIGHT), 'temperature', null, 'mean')?.u)).toBeCloseTo(u, 9);
  });

  test('without times of printing, all of it counts', () => {
    // ∫ = 8 × 25.25 + 4 × 21.15 + 8 × 17 + 4 × 21.1 + 8 × 25.25 = 709 over 32 h.
    expect(temperature(trial('', NIGHT), 'mean')).toBe('22.15625');
    expect(temperature(trial('', NIGHT), 'least')).toBe('17');
  });

  test('where one batch has no time, the whole run does: from started to finished', () => {
    const text = trial('batches: [{end: 2000}, {end: 4000}]', NIGHT).replace(
      'trial: Rope Walk lot 51, machine Petrel',
      'trial: {title: Rope Walk lot 51, started: 2026-02-03T08:00, finished: 2026-02-03T16:00}',
    );
    expect(temperature(text, 'mean')).toBe('25.25');
  });

  test('a reading half an hour before the first page counts, one a minute earlier does not', () => {
    const batch = 'batches: [{end: 4000, started: 2026-02-03T10:00, finished: 2026-02-03T12:00}]';
    const two = (first: string): string => trial(batch, `${at(first, '20.0')}, ${at('03T11:00', '22.0')}`);
    expect(temperature(two('03T09:30'), 'least')).toBe('20');
    expect(temperature(two('03T09:29'), 'least')).toBe('22');
  });

  test('readings of the day alone always count, in a plain mean', () => {
    const text = trial(TWO_DAYS, [at('03', '22.0'), at('03', '24.0'), at('04', '26.0')].join(', '));
    expect(temperature(text, 'greatest')).toBe('26');
    // From day to day a straight line, (24 + 26) / 2; on one day alone (22 + 24) / 2.
    expect(temperature(text, 'mean')).toBe('25');
    // Beside one that was taken while pages were printed, even of another day; or of no day at all.
    const beside = (one: string): string => trial(TWO_DAYS, `${at('03T09:00', '22.0')}, ${one}`);
    expect(temperature(beside(at('05', '30.0')), 'greatest')).toBe('30');
    expect(temperature(beside('{temperature: 31.0 °C, humidity: 45 %}'), 'greatest')).toBe('31');
    expect(temperature(trial(TWO_DAYS, `${at('03', '22.0')}, ${at('03', '24.0')}`), 'mean')).toBe('23');
  });

  test('readings that all lie outside count, rather than none', () => {
    const text = trial(TWO_DAYS, [at('03T20:00', '17.0'), at('04T04:00', '18.0')].join(', '));
    expect(temperature(text, 'least')).toBe('17');
  });

  test('a batch longer than the readings: the air is as in the last one', () => {
    // From 08:00 to 12:00 the line from 20 to 24, mean 22; from 12:00 to 16:00 as at 12:00, 24.
    const batch = 'batches: [{end: 4000, started: 2026-02-03T08:00, finished: 2026-02-03T16:00}]';
    expect(temperature(trial(batch, `${at('03T08:00', '20.0')}, ${at('03T12:00', '24.0')}`), 'mean')).toBe(
      '23',
    );
  });
});

describe('when pages were printed', () => {
  const time = (text: string) => {
    const read = readTime(text);
    return 'value' in read ? read.value : null;
  };
  const batch = (span: string, other = false) => {
    const [started = '', finished = ''] = span.split(' ');
    return { other, started: time(started), finished: time(finished) };
  };
  const hours = (batches: readonly ReturnType<typeof batch>[], whole = ''): unknown => {
    const { started, finished } = batch(whole);
    const midnight = time('2026-02-03')?.seconds ?? 0;
    return (
      printingTimes({ batches, started, finished } as unknown as Run)?.map((interval) =>
        interval.map((seconds) => (seconds - midnight) / 3600),
      ) ?? null
    );
  };
  const [NINE, TEN, NOON, TWO] = [
    '2026-02-03T09:00',
    '2026-02-03T10:00',
    '2026-02-03T12:00',
    '2026-02-03T14:00',
  ];

  test.each([
    [
      'in order',
      [`${NOON} ${TWO}`, `${NINE} ${TEN}`],
      [
        [9, 10],
        [12, 14],
      ],
    ],
    [
      'apart from one another: one that goes on from another is one with it',
      [`${NINE} ${TEN}`, `${TEN} ${NOON}`],
      [[9, 12]],
    ],
    ['the longer of two that overlap', [`${NINE} ${TWO}`, `${TEN} ${NOON}`], [[9, 14]]],
    ['not known where one batch has a day alone', [`${NINE} ${TEN}`, `2026-02-03 ${NOON}`], null],
    ['nor where it ends on a day alone', [`${NINE} ${TEN}`, `${NOON} 2026-02-04`], null],
    ['nor where one has no beginning', [`${NINE} ${TEN}`, ` ${NOON}`], null],
    ['nor where one has no end', [`${NINE} ${TEN}`, NOON], null],
    ['nor where one took no time', [`${NINE} ${TEN}`, `${NOON} ${NOON}`], null],
  ] as const)('is %s', (_, batches, known) => {
    expect(hours(batches.map((span) => batch(span)))).toEqual(known);
    // Else it is the whole run, where that is known.
    expect(
      hours(
        batches.map((span) => batch(span)),
        `${NINE} ${TWO}`,
      ),
    ).toEqual(known ?? [[9, 14]]);
  });

  test('is the whole run without batches; what is not of the trial does not count', () => {
    expect(hours([], `${NINE} ${NOON}`)).toEqual([[9, 12]]);
    expect(hours([])).toBeNull();
    expect(hours([batch(`${NINE} ${TEN}`), batch(`${TEN} ${NOON}`, true)])).toEqual([[9, 10]]);
  });

  test('a reading half an hour after the last page counts, one a minute later does not', () => {
    const batches = 'batches: [{end: 4000, started: 2026-02-03T10:00, finished: 2026-02-03T12:00}]';
    const two = (last: string): string => trial(batches, `${at('03T11:00', '22.0')}, ${at(last, '20.0')}`);
    expect(temperature(two('03T12:30'), 'least')).toBe('20');
    expect(temperature(two('03T12:31'), 'least')).toBe('22');
  });
});

describe('the mean of readings', () => {
  const WHERE = { path: ['ambient'], unit: '°C' };
  const reading = ([seconds, value]: readonly [number, number]) => ({
    at: { text: '', kind: 'civil' as const, day: '', seconds },
    measured: Measured.exact(value),
  });
  const mean = (
    readings: readonly (readonly [number, number])[],
    printing: readonly Interval[] | null,
  ): Measured => meanOfReadings(readings.map(reading), printing, WHERE);

  /** The straight line from reading to reading, which is as the first before it and as the last after it. */
  const lineAt = (readings: readonly (readonly [number, number])[], second: number): number => {
    const next = readings.findIndex(([at]) => at >= second);
    const [before, after] = [readings[next - 1] ?? readings.at(-1), readings[next] ?? readings.at(-1)];
    if (before === undefined || after === undefined || next <= 0)
      return (next === 0 ? after : before)?.[1] ?? 0;
    return before[1] + ((after[1] - before[1]) * (second - before[0])) / (after[0] - before[0]);
  };

  test('is that of the lines between them over the times of printing, taken second by second', () => {
    const rising = fc
      .array(fc.integer({ min: 0, max: 3 }), { minLength: 2, maxLength: 7 })
      .map((steps) => steps.map((_, index) => steps.slice(0, index + 1).reduce((sum, step) => sum + step, 5)))
      .filter((times) => (times.at(-1) ?? 0) > (times[0] ?? 0));
    const printing = fc
      .uniqueArray(fc.integer({ min: 0, max: 30 }), { minLength: 2, maxLength: 8 })
      .map((ends) => ends.toSorted((a, b) => a - b))
      .map((ends) =>
        ends.flatMap((from, i): Interval[] =>
          i % 2 === 0 && ends[i + 1] !== undefined ? [[from, ends[i + 1] ?? 0]] : [],
        ),
      );
    const value = fc.integer({ min: 15, max: 30 });
    fc.assert(
      fc.property(
        rising,
        fc.array(value, { minLength: 7, maxLength: 7 }),
        fc.option(printing),
        (times, values, told) => {
          const readings = times.map((at, index) => [at, values[index] ?? 0] as const);
          const over = told ?? [[times[0] ?? 0, times.at(-1) ?? 0]];
          // A line is in the middle of a second what it is over that second on the mean.
          const middles = over.flatMap(([from, to]) =>
            Array.from({ length: to - from }, (_, at) => from + at + 0.5),
          );
          const expected =
            middles.reduce((sum, second) => sum + lineAt(readings, second), 0) / middles.length;
          // Weights are whole thousandths of a second.
          expect(Math.abs(mean(readings, told).value.toNumber() - expected)).toBeLessThan(
            (0.0005 * 15 * 12) / middles.length,
          );
        },
      ),
      { numRuns: 300 },
    );
  });

  test('goes by thousandths of a second: one second of three from 20 to 21 °C, 20 + 1/6', () => {
    expect(
      mean(
        [
          [0, 20],
          [3, 21],
        ],
        [[0, 1]],
      ).value.toNumber(),
    ).toBeCloseTo(20 + 1 / 6, 3);
  });

  /*
   * u = s/√n of what lies between readings, s² = Σ (xᵢ₊₁ − xᵢ)² / 2(n − 1): of 20 and 21 °C √(1/2/2) = 1/2; of 20, 21
   * and 23 °C √((1 + 4)/4/3).
   */
  test('is as uncertain as the readings that count differ from one to the next', () => {
    expect(
      mean(
        [
          [0, 20],
          [60, 21],
        ],
        null,
      ).u.toNumber(),
    ).toBeCloseTo(0.5, 14);
    expect(
      mean(
        [
          [0, 20],
          [60, 21],
          [120, 23],
        ],
        null,
      ).u.toNumber(),
    ).toBeCloseTo(Math.sqrt(5 / 12), 14);
    expect(
      mean(
        [
          [0, 21],
          [60, 21],
        ],
        null,
      ).u.isZero(),
    ).toBe(true);
    expect(mean([[0, 21]], null).u.isZero()).toBe(true);
    // Two of three were taken while pages were printed; where it is one, all of them tell.
    const night = [
      [0, 20],
      [36_000, 23],
      [37_000, 24],
    ] as const;
    expect(mean(night, [[36_000, 37_000]]).u.toNumber()).toBeCloseTo(0.5, 14);
    expect(mean(night, [[0, 1000]]).u.toNumber()).toBeCloseTo(Math.sqrt(10 / 12), 14);
  });

  test('of readings at one time is the plain one', () => {
    expect(
      mean(
        [
          [60, 20],
          [60, 23],
        ],
        null,
      ).value,
    ).toEqual(new Decimal('21.5'));
  });
});

describe('what readings do not cover', () => {
  test('the scale’s error as one for both weighings cancels in their difference', () => {
    const text = (more: string): string =>
      trial(
        '',
        at('03T08:00', '22.0'),
        `instruments: {scale: {resolution: 1 g, max_error: 2 g${more}}}\nwaste_container: {tare: 640 g, final: 700 g}`,
      );
    // Two readings to 1 g: u² = 2/12. With an error of up to 2 g at each of them 2 × 4/3 more.
    expect(Number(figure(text(', shared_error: true'), 'waste_mass')?.u)).toBeCloseTo(Math.sqrt(2 / 12), 12);
    for (const own of ['', ', shared_error: false'])
      expect(Number(figure(text(own), 'waste_mass')?.u)).toBeCloseTo(Math.sqrt(2 / 12 + 8 / 3), 12);
  });

  test('anything but true or false is told', () => {
    const text = trial('', at('03T08:00', '22.0'), 'instruments: {scale: {shared_error: yes}}');
    const { code, out } = run(['verdict', '-'], {}, text);
    expect(code).toBe(3);
    expect(out).toContain('Write true or false.');
  });

  test('the formula of absolute humidity is good to 0.8 %: u of it, from exact readings', () => {
    const text = trial(
      '',
      at('03T08:00', '22.0'),
      'instruments: {thermometer: {resolution: 1e-9 °C}, hygrometer: {resolution: 1e-9 %}}',
    );
    const found = figure(text, 'absolute_humidity', null, 'mean');
    expect(Number(found?.u) / Number(found?.value)).toBeCloseTo(0.008 / Math.sqrt(3), 6);
  });
});
