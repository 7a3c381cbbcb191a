import { describe, expect, test } from 'vitest';
import { figure, judge, type ResultJson, run } from '../run.ts';

/*
 * What was found when delivery, machine and prints were looked at. The order none, minor, major, critical
 * is the format's own; the findings are invented.
 */

const trial = (inspection: string, limits = ''): string => `
trial: Saddlers Court lot 2, machine Dun
meter: {start: 500, end: 4500}
${inspection === '' ? '' : `inspection: ${inspection}`}
${limits === '' ? '' : `limits: {${limits}}`}
`;

const worst = (text: string, of: string | null = null): string | undefined =>
  figure(text, 'worst_finding', of)?.value;

const FOUND = `
  - {stage: delivery, part: packaging, severity: minor, note: corner dented}
  - {stage: delivery, part: label, severity: none}
  - {stage: before, part: fuser, severity: none}
  - {stage: after, part: fuser, slot: black, severity: major, note: toner on the rollers}
  - {stage: after, part: seal, severity: minor}
  - {stage: after, severity: minor}
`;

describe('worst_finding', () => {
  test('in all the worst of all: major', () => {
    expect(figure(trial(FOUND), 'worst_finding')).toMatchObject({
      of: null,
      stat: null,
      value: 'major',
      unit: 'severity',
      u: '0',
      bound: 'exact',
    });
  });

  test('by stage', () => {
    expect(worst(trial(FOUND), 'delivery')).toBe('minor');
    expect(worst(trial(FOUND), 'before')).toBe('none');
    expect(worst(trial(FOUND), 'after')).toBe('major');
  });

  test('by part, over the stages', () => {
    expect(worst(trial(FOUND), 'packaging')).toBe('minor');
    expect(worst(trial(FOUND), 'label')).toBe('none');
    expect(worst(trial(FOUND), 'fuser')).toBe('major');
    expect(worst(trial(FOUND), 'seal')).toBe('minor');
  });

  test.each(['none', 'minor', 'major', 'critical'])('one finding, %s, is the worst', (severity) => {
    const one = trial(`[{stage: during, part: gear, severity: ${severity}}]`);
    expect([worst(one), worst(one, 'during'), worst(one, 'after')]).toEqual([severity, severity, undefined]);
  });

  test('critical is worse than major, whatever their order', () => {
    expect(worst(trial('[{part: chip, severity: critical}, {part: chip, severity: major}]'))).toBe(
      'critical',
    );
    expect(worst(trial('[{part: chip, severity: major}, {part: chip, severity: critical}]'))).toBe(
      'critical',
    );
  });

  test('[] says that there were none: none in all and at every stage', () => {
    for (const of of [null, 'delivery', 'before', 'during', 'after'])
      expect(worst(trial('[]'), of), String(of)).toBe('none');
  });

  test('absent says nothing: no figure', () => {
    expect(judge(trial('')).figures.filter(({ figure }) => figure === 'worst_finding')).toEqual([]);
  });

  test('each is told once, a part that has the name of a stage as that stage', () => {
    const named = trial('[{part: delivery, severity: major}, {stage: delivery, part: box, severity: none}]');
    const delivery = judge(named).figures.filter(
      ({ figure, of }) => figure === 'worst_finding' && of === 'delivery',
    );
    expect(delivery.map(({ value }) => value)).toEqual(['none']);
    const own = judge(trial(FOUND)).figures.filter(({ figure }) => figure === 'worst_finding');
    const names = own.map(({ of }) => of);
    expect(new Set(names).size).toBe(names.length);
  });
});

describe('limits in words', () => {
  const outcome = (inspection: string, limit: string): (string | null | undefined)[] => {
    const { code, limits } = judge(trial(inspection, `worst_finding: {${limit}}`));
    return [String(code), limits[0]?.outcome];
  };

  test('a maximum takes the severity it names and those below it', () => {
    expect(outcome(FOUND, 'max: critical')).toEqual(['0', 'met']);
    expect(outcome(FOUND, 'max: major')).toEqual(['0', 'met']);
    expect(outcome(FOUND, 'max: minor')).toEqual(['1', 'missed']);
    expect(outcome(FOUND, 'max: none')).toEqual(['1', 'missed']);
  });

  test('on a stage or a part', () => {
    expect(outcome(FOUND, 'of: delivery, max: minor')).toEqual(['0', 'met']);
    expect(outcome(FOUND, 'of: delivery, max: none')).toEqual(['1', 'missed']);
    expect(outcome(FOUND, 'of: fuser, max: minor')).toEqual(['1', 'missed']);
    expect(outcome(FOUND, 'of: seal, max: minor')).toEqual(['0', 'met']);
  });

  test('without "of" and with "of: total" it is of the whole, once', () => {
    for (const of of ['', 'of: total, ']) {
      const { limits } = judge(trial(FOUND, `worst_finding: {${of}max: minor}`));
      expect(limits.map(({ of, outcome }) => [of, outcome])).toEqual([[null, 'missed']]);
    }
  });

  test('JSON gives limit and figure as words', () => {
    const { limits } = judge(trial(FOUND, 'worst_finding: {max: minor}'));
    expect(limits[0]).toMatchObject({ min: null, max: 'minor', unit: 'severity' });
  });

  test('a condition voids the trial, a warning only warns', () => {
    expect(outcome(FOUND, 'max: minor, effect: voids')).toEqual(['2', 'missed']);
    expect(judge(trial(FOUND, 'worst_finding: {max: minor, effect: advises}, pages: {min: 4000}')).code).toBe(
      0,
    );
  });

  test('[] meets it, absent leaves it open with the key named', () => {
    expect(outcome('[]', 'max: none')).toEqual(['0', 'met']);
    expect(outcome('[]', 'of: after, max: none')).toEqual(['0', 'met']);
    const { code, limits } = judge(trial('', 'worst_finding: {max: minor}'));
    expect(code).toBe(2);
    expect(limits[0]).toMatchObject({ outcome: 'open', margin: null });
    expect(limits[0]?.reason).toContain('inspection');
  });

  test('absent leaves one on a stage open', () => {
    expect(outcome('', 'of: after, max: minor')).toEqual(['2', 'open']);
  });

  test('absent leaves one on a part open: what was not recorded yet has no parts to name', () => {
    expect(outcome('', 'of: fuser, max: minor')).toEqual(['2', 'open']);
  });

  test('[] meets one on a part: there was nothing to find on any', () => {
    expect(outcome('[]', 'of: fuser, max: minor')).toEqual(['0', 'met']);
  });

  test('a word that is no severity is an error with the nearest suggested', () => {
    const { code, notes } = judge(trial(FOUND, 'worst_finding: {max: minr}'));
    expect(code).toBe(3);
    expect(notes.find(({ code }) => code === 'unknown-word')?.message).toContain('"minor"');
  });

  test('a limit the wrong way round is one', () => {
    const { code, notes } = judge(trial(FOUND, 'worst_finding: {min: major, max: minor}'));
    expect(code).toBe(3);
    expect(notes.map(({ code }) => code)).toContain('limit-reversed');
  });
});

test('text lists what was found, and leaves out what was not', () => {
  const { out } = run(['verdict', 'trial.yaml'], {
    'trial.yaml': trial(FOUND, 'worst_finding: {max: minor}'),
  });
  expect(out).toMatch(/major +after +fuser, black: toner on the rollers/);
  expect(out).toMatch(/minor +delivery +packaging: corner dented/);
  expect(out).not.toContain('label');
});

test('the reference run has its own inspection, which is not the candidate’s', () => {
  const both = trial('[{stage: after, severity: none}]', 'worst_finding: {max: none}').concat(
    'reference: {meter: {start: 0, end: 500}, inspection: [{stage: after, severity: critical}]}\n',
  );
  const result: ResultJson = judge(both);
  expect(result.verdict).toBe('pass');
});
