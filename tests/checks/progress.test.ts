import { describe, expect, it } from 'vitest';
import { judge, type ResultJson, run } from '../run.ts';

/** Half of a run of 12000 pages, with 86 g of waste per 3000 pages. */
const HALF = `trial: Half-way
meter: {start: 20150, end: }
batches:
  - {end: 23150, started: 2026-03-09T09:00, finished: 2026-03-09T15:00, container_mass: 734 g}
  - {end: 26150, started: 2026-03-10T09:00, finished: 2026-03-10T13:00, container_mass: 820 g}
waste_container: {tare: 648 g, final: , capacity: 300 g}
events: [{at: 22871, kind: jam}]
target: {pages: 12000, batch: 3000, hours_per_day: 6}
`;

const notes = (trial: string, code: string): string[] =>
  judge(trial)
    .notes.filter((note) => note.code === code)
    .map(({ message }) => message);

describe('a run that goes on', () => {
  it('says how far it is and where to stop next', () => {
    expect(notes(HALF, 'run-under-way')).toEqual([
      '6000 pages are printed of 12000 (50 %). Next: batch 3, to meter 29150.',
    ]);
  });

  it('says so before the figures, and again behind the verdict', () => {
    const { out } = run(['verdict', 't.yaml'], { 't.yaml': HALF });
    const lines = out.trimEnd().split('\n');
    expect(lines[3]).toBe('RUN UNDER WAY: its end is not read yet. What follows is how it stands so far.');
    expect(lines.at(-1)).toBe('VERDICT: INCONCLUSIVE (under way)');
    const ended = HALF.replace('end: }', 'end: 32150}');
    const { out: then } = run(['verdict', 't.yaml'], { 't.yaml': ended });
    expect(then).not.toMatch(/under way/i);
    const begun = HALF.replace(/^batches:\n(?: {2}.*\n)+/m, '');
    expect(run(['verdict', 't.yaml'], { 't.yaml': begun }).out).not.toMatch(/under way/i);
  });

  it('counts other pages on the meter, and not as pages of the trial', () => {
    const text = HALF.replace(
      '  - {end: 26150, started: 2026-03-10T09:00, finished: 2026-03-10T13:00, container_mass: 820 g}',
      '  - {end: 24150, other: true, coverage: 5 %, container_mass: 754 g}\n  - {end: 27150, container_mass: 840 g}',
    );
    expect(notes(text, 'run-under-way')).toEqual([
      '6000 pages are printed of 12000 (50 %). Next: batch 3, to meter 30150.',
    ]);
    // 840 − 648 − 20 = 172 g of these 6,000 pages, as without the others; four weighings: u = √(4/12) = 0.577 g
    expect(notes(text, 'waste-so-far')).toEqual([
      '172.0 ± 1.2 g of waste from 6000 pages are 28.67 ± 0.19 g per thousand: 344.0 ± 2.3 g in the end if it stays so.',
    ]);
    // 300 − 192 g are left at 192/7 g a thousand, as all 7,000 pages filled it: 3,937 pages on, at 20150 + 1000 + 9937
    const apart = text.replace('container_mass: 754 g', 'note: a job');
    expect(notes(apart, 'container-fills')[0]).toContain('31087');
    // Not weighed before them: nothing is said of a rate that is not known
    expect(notes(text.replace('container_mass: 754 g', 'note: a job'), 'waste-so-far')).toEqual([]);
  });

  it('says nothing of pages while the end of others on the way is not read', () => {
    const text = HALF.replace(
      '  - {end: 23150, started: 2026-03-09T09:00,',
      '  - {end: 23150, other: true}\n  - {end: 24150, started: 2026-03-09T10:00,',
    );
    expect(notes(text, 'run-under-way')[0]).toContain('3000 pages are printed of 12000');
    const unread = judge(text.replace('{end: 23150,', '{end: ,'));
    expect(unread.verdict).toBe('inconclusive');
    expect(unread.notes.map(({ code }) => code)).not.toContain('run-under-way');
  });

  it('says when it may end', () => {
    // 600 pages an hour: ten hours left, two of them on the day begun, eight more over two days.
    expect(notes(HALF, 'run-expected-end')).toEqual([
      'At 600 pages an hour so far, 10 printing hours are left: done on 2026-03-12 at the earliest.',
    ]);
  });

  it('carries the waste on, with its uncertainty', () => {
    // Two weighings to 1 g: u = √(2/12) = 0.408 g of 172 g; 28.667 g per thousand, 344 g in the end.
    expect(notes(HALF, 'waste-so-far')).toEqual([
      '172.00 ± 0.82 g of waste from 6000 pages are 28.67 ± 0.14 g per thousand: 344.0 ± 1.6 g in the end if it stays so.',
    ]);
  });

  it('says when the container will be full', () => {
    // 128 g are left at 28.667 g per thousand: 4465 pages on from 26150.
    const [fills] = notes(HALF, 'container-fills');
    expect(fills).toContain('full at about meter 30615');
    expect(fills).toMatch(/Care \(from memory.*gloves on; close the full container/);
  });

  it('says nothing of a full container where no pages are planned, or the waste is less than nothing', () => {
    const unplanned = HALF.replace(/^target.*\n/m, '');
    expect([notes(unplanned, 'container-fills'), notes(unplanned, 'waste-so-far').length]).toEqual([[], 1]);
    const falling = HALF.replace('{end: 23150,', '{end: 23150, other: true,').replace('820 g', '700 g');
    expect([notes(falling, 'container-fills'), notes(falling, 'interim-falls').length]).toEqual([[], 1]);
  });

  it('is shown in a section of its own', () => {
    expect(run(['verdict', 't.yaml'], { 't.yaml': HALF }).out).toContain('HOW FAR IT IS\n  6000 pages');
  });

  it('counts what came after the last weighing too', () => {
    const trial = HALF.replace('waste_container:', '  - {end: 27000}\nwaste_container:');
    expect(notes(trial, 'run-under-way')[0]).toContain(
      '6850 pages are printed of 12000 (57 %). Next: batch 3',
    );
    expect(notes(trial, 'waste-so-far')[0]).toContain('from 6000 pages');
  });

  it('says nothing once the run is over, nor before it has begun', () => {
    for (const trial of [
      HALF.replace('end: }\nbatches', 'end: 32150}\nbatches').replace('final: ,', 'final: 960 g,'),
      HALF.replace('start: 20150', 'start: ')
        .replace(/ {2}- \{end.*\n/g, '')
        .replace('batches:', 'batches: []'),
    ]) {
      expect(notes(trial, 'run-under-way')).toEqual([]);
      expect(notes(trial, 'waste-so-far')).toEqual([]);
    }
  });

  it('that ended short of its target is asked about', () => {
    const over = HALF.replace('end: }\nbatches', 'end: 26150}\nbatches').replace('final: ,', 'final: 820 g,');
    expect(notes(over, 'short-of-target')[0]).toContain('6000 of the 12000 pages');
    const nearly = over.replace('end: 26150}', 'end: 31900}');
    expect(notes(nearly, 'run-short-of-target')[0]).toContain('11750 of the 12000 pages');
  });
});

describe('a limit that can no longer be kept', () => {
  const limited = (limits: string): string => `${HALF}limits: {${limits}}\n`;

  it.each([
    ['waste_mass: {max: 171 g}', 'at least 172 g'],
    ['waste_per_thousand: {max: 14 g}', 'at least 14.3333 g'],
    ['jams_per_thousand: {max: 0.08}', 'at least 0.0833333'],
    // 12000 × 300 / 172
    ['container_life: {min: 21000}', 'at most 20930.2 page'],
  ])('%s', (limit, value) => {
    const [message] = notes(limited(limit), 'limit-out-of-reach');
    expect(message).toContain(value);
    expect(notes(limited(limit), 'limit-at-risk')).toEqual([]);
  });

  it.each([
    'waste_mass: {max: 173 g}',
    'waste_per_thousand: {max: 14.4 g}',
    'jams_per_thousand: {max: 0.084}',
    'container_life: {min: 20900}',
  ])('but not %s', (limit) => {
    expect(notes(limited(limit), 'limit-out-of-reach')).toEqual([]);
  });

  it('under the guarded rule only beyond the guard band', () => {
    const guarded = 'waste_mass: {max: 171.5 g}, decision: {rule: guarded}';
    expect(notes(limited(guarded), 'limit-out-of-reach')).toEqual([]);
    expect(notes(limited(guarded.replace('171.5', '171')), 'limit-out-of-reach')).toHaveLength(1);
    // One jam: its exact lower bound over 12000 pages is far below one in 12000.
    const jams = 'jams_per_thousand: {max: 0.08}, decision: {rule: guarded}';
    expect(notes(limited(jams), 'limit-out-of-reach')).toEqual([]);
  });

  it('not by a weight that is in doubt: 820 g as 1820 g', () => {
    const slip = limited('waste_mass: {max: 171 g}').replace(
      'container_mass: 820 g',
      'container_mass: 1820 g',
    );
    expect(notes(slip, 'waste-rate-apart')).toHaveLength(1);
    for (const code of ['limit-out-of-reach', 'limit-at-risk']) expect(notes(slip, code)).toEqual([]);
  });

  it('and one that would be missed if it went on so', () => {
    expect(notes(limited('waste_per_thousand: {max: 28 g}'), 'limit-at-risk')[0]).toContain('28.67 ± 0.14 g');
    expect(notes(limited('waste_mass: {max: 340 g}'), 'limit-at-risk')[0]).toContain('344.0 ± 1.6 g');
    expect(notes(limited('waste_per_thousand: {max: 29 g}'), 'limit-at-risk')).toEqual([]);
  });

  it('has no place in the trial where a file of limits asks for it', () => {
    const { out } = run(['verdict', 't.yaml', '--format', 'json', '--limits', 'l.yaml'], {
      't.yaml': HALF,
      'l.yaml': 'waste_mass: {max: 171 g}\nwaste_per_thousand: {max: 28 g}\n',
    });
    const places = (JSON.parse(out) as ResultJson).notes.flatMap(({ code, line }) =>
      code.startsWith('limit-') ? [[code, line]] : [],
    );
    expect(places).toEqual([
      ['limit-out-of-reach', null],
      ['limit-at-risk', null],
    ]);
    const own = judge(limited('waste_mass: {max: 171 g}')).notes.find(({ code }) =>
      code.startsWith('limit-'),
    );
    expect(own?.line).toBe(9);
  });

  it('is not lost by waste of which nobody knows how much is of other pages', () => {
    const text = limited('waste_per_thousand: {max: 14 g}').replace(
      '{end: 26150,',
      '{end: 24150, other: true}\n  - {end: 27150,',
    );
    expect(notes(text, 'limit-out-of-reach')).toEqual([]);
    expect(notes(text, 'run-under-way')).toHaveLength(1);
  });

  it('is not spoken of while nothing is printed', () => {
    const begun = limited('waste_mass: {max: 171 g}').replace(
      /^batches:\n(?: {2}.*\n)+/m,
      'batches: [{end: 20150, container_mass: 648 g}]\n',
    );
    const { notes: all } = judge(begun);
    expect(all.filter(({ code }) => /limit-|waste-so-far|internal/.test(code))).toEqual([]);
  });

  it('leaves the outcome open: the verdict is given on what was read', () => {
    const { limits, verdict } = judge(limited('waste_mass: {max: 100 g}'));
    expect(limits.map(({ outcome }) => outcome)).toEqual(['open']);
    expect(verdict).toBe('inconclusive');
  });
});
