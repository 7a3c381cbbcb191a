import { describe, expect, test } from 'vitest';
import { judge, run } from '../run.ts';

/* A check weight before and after the run. What a scale may be off is worked by hand; the trials are invented. */

const trial = (scale: string): string => `trial: Tern Street lot 32
meter: {start: 1000, end: 5000}
coverage: 5 %
instruments: {scale: {${scale}}}
waste_container: {tare: 640 g, final: 700 g}
limits: {waste_per_thousand: {max: 25 g}}
`;
const said = (scale: string): [code: string, key: string | null][] =>
  judge(trial(scale)).notes.flatMap(({ code, key }) =>
    code === 'check-weight-off' || code === 'scale-drifts' ? [[code, key] as [string, string | null]] : [],
  );
const RESOLUTION = 'resolution: 0.1 g, max_error: 0.1 g';

describe('a check weight', () => {
  test.each([
    ['as it is', `${RESOLUTION}, check: {nominal: 500 g, start: 500.0 g, end: 500.0 g}`, []],
    [
      'off by the error and half a step',
      `resolution: 0.2 g, max_error: 0.1 g, check: {nominal: 500 g, start: 500.2 g, end: 499.8 g}`,
      [],
    ],
    [
      'too heavy at the end',
      `${RESOLUTION}, check: {nominal: 500 g, start: 500.1 g, end: 500.2 g}`,
      [['check-weight-off', 'end']],
    ],
    [
      'too light at the start',
      `${RESOLUTION}, check: {nominal: 500 g, start: 499.8 g}`,
      [['check-weight-off', 'start']],
    ],
    [
      'read with digits alone',
      'check: {nominal: 500 g, start: 501 g, end: 500 g}',
      [['check-weight-off', 'start']],
    ],
    // Each by its own last digit: 0.5 g off are more than 0.05 g, half a gram is half of 1 g.
    [
      'read to a tenth and to a gram',
      'check: {nominal: 500 g, start: 500.5 g, end: 500 g}',
      [['check-weight-off', 'start']],
    ],
    ['read to a gram and to a tenth', 'check: {nominal: 500.5 g, start: 500 g, end: 500.5 g}', []],
    // Half a step for a reading, one step for two of them; twice the error more where it is not shared.
    [
      'drifting with no error',
      'resolution: 1 g, check: {nominal: 500 g, start: 499 g, end: 501 g}',
      [
        ['check-weight-off', 'start'],
        ['check-weight-off', 'end'],
        ['scale-drifts', 'end'],
      ],
    ],
    [
      'drifting within the error',
      'resolution: 1 g, max_error: 1 g, check: {nominal: 500 g, start: 499 g, end: 501 g}',
      [],
    ],
    [
      'drifting though the error is one for all',
      'resolution: 1 g, max_error: 1 g, shared_error: true, check: {nominal: 500 g, start: 501 g, end: 499 g}',
      [['scale-drifts', 'end']],
    ],
    [
      'drifting by one step',
      'resolution: 1 g, max_error: 1 g, shared_error: true, check: {nominal: 500 g, start: 500 g, end: 501 g}',
      [],
    ],
    [
      'drifting by one step and the error of both readings',
      'resolution: 1 g, max_error: 1 g, check: {nominal: , start: 500 g, end: 503 g}',
      [],
    ],
    [
      'drifting by more than that',
      'resolution: 1 g, max_error: 1 g, check: {nominal: , start: 504 g, end: 500 g}',
      [['scale-drifts', 'end']],
    ],
    ['without what it is', 'check: {nominal: , start: 500 g, end: 507 g}', [['scale-drifts', 'end']]],
  ])('%s', (_, scale, told) => {
    expect(said(scale)).toEqual(told);
  });

  test('is told in words, and corrects nothing', () => {
    const fine = run(
      ['verdict', '-'],
      {},
      trial('resolution: 0.1 g, check: {nominal: 500 g, start: 499.8 g, end: 500.4 g}'),
    ).out.replace(/\s+/g, ' ');
    expect(fine).toContain('as 500.4 g, 0.4 g too much; its resolution and max_error allow 0.05 g.');
    expect(fine).toContain('it drifted up by 0.6 g; its resolution and max_error allow 0.1 g.');
    const text = trial('resolution: 1 g, check: {nominal: 500 g, start: 498 g, end: 501 g}');
    const { out } = run(['verdict', '-'], {}, text);
    const lines = out.replace(/\s+/g, ' ');
    expect(lines).toContain('as 498 g, 2 g too little; its resolution and max_error allow 0.5 g.');
    expect(lines).toContain('it drifted up by 3 g; its resolution and max_error allow 1 g.');
    const down = run(
      ['verdict', '-'],
      {},
      text.replace('start: 498 g, end: 501 g', 'start: 501 g, end: 498 g'),
    );
    expect(down.out.replace(/\s+/g, ' ')).toContain('it drifted down by 3 g');
    const { figures, verdict } = judge(text);
    expect(figures.find(({ figure }) => figure === 'waste_mass')?.value).toBe('60');
    expect(verdict).toBe('pass');
  });

  test('that is still to be read is asked for, and noted in grams', () => {
    const files = { 'trial.yaml': trial('check: {nominal: 500 g, start: 500 g, end: }') };
    expect(judge(files['trial.yaml']).notes).toContainEqual(
      expect.objectContaining({ code: 'to-be-read', key: 'end' }),
    );
    const { written } = run(['note', 'trial.yaml', '--reading', 'instruments.scale.check.end=500'], files);
    expect(written['trial.yaml']).toContain('end: 500 g}');
  });
});
