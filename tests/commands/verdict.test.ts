import { describe, expect, test } from 'vitest';
import { OutputLost } from '../../src/world/io.ts';
import { run } from '../run.ts';

describe('the examples', () => {
  test.each([
    ['harbour-street', 0, 'PASS'],
    ['four-colour-pass', 0, 'PASS'],
    ['rolled-over', 0, 'PASS'],
    ['draft-with-slips', 0, 'PASS'],
    ['waste-fail', 1, 'FAIL'],
    ['not-exhausted', 2, 'INCONCLUSIVE'],
    ['warm-room', 2, 'INCONCLUSIVE'],
  ])('%s', (name, code, verdict) => {
    const ran = run(['verdict', `examples/${name}.yaml`]);
    expect(ran.err).toBe('');
    expect(ran.out.trimEnd().split('\n').at(-1)).toBe(`VERDICT: ${verdict}`);
    expect(ran.code).toBe(code);
  });
});

describe('what goes wrong', () => {
  test('output that cannot be written: 5', () => {
    const out = (): never => {
      throw new OutputLost();
    };
    expect(run(['verdict', 'examples/waste-fail.yaml'], {}, '', { out }).code).toBe(5);
  });

  test('what should not happen is said, without a stack: 5', () => {
    const kind = (): never => {
      throw new RangeError('nothing of this');
    };
    const ran = run(['verdict', 'a.yaml'], {}, '', { kind });
    expect(ran).toMatchObject({ code: 5, out: '' });
    expect(ran.err).toMatch(/^tallytare: something went wrong .*nothing of this\n$/);
  });
});

test('a comma before three digits may group thousands; before others it is a point', () => {
  const told = (mass: string): string =>
    run(['verdict', 'a.yaml'], {
      'a.yaml': `trial: x\nmeter: {start: 1}\nwaste_container: {tare: ${mass}}\n`,
    }).out;
  for (const mass of ['1,200 g', '"1,200 g"']) expect(told(mass)).toMatch(/1\.200 g or\s+1200 g\./);
  expect(told('"640,5 g"')).toContain('640.5 g');
  expect(told('"640,5 g"')).not.toContain('6405 g');
  expect(told('"0,512 kg"')).toContain('0.512 kg');
});

test('columns may have spaces between them', () => {
  const columns = (names: string): string =>
    run(['verdict', 'examples/harbour-street.yaml', '--format', 'csv', '--columns', names]).out;
  expect(columns('file, verdict')).toBe(columns('file,verdict'));
});
