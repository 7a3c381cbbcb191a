import { describe, expect, test } from 'vitest';
import { main as oneAlone } from '../../src/commands/entry-one.ts';
import { type Io, OutputLost } from '../../src/commands/io.ts';
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

describe('one trial and no option', () => {
  const HANDED_ON = -1;
  const one = (argv: readonly string[], io: Io): number => oneAlone(argv, io) ?? HANDED_ON;

  test.each(['harbour-street', 'waste-fail', 'warm-room', 'draft-with-slips', 'nowhere'])(
    '%s: as with the whole command',
    (name) => {
      const argv = ['verdict', `examples/${name}.yaml`];
      expect(run(argv, {}, '', {}, one)).toEqual(run(argv));
    },
  );

  test('from standard input, in colour', () => {
    const argv = ['verdict', '-'];
    const more = { colour: true };
    expect(run(argv, {}, 'trial: A', more, one)).toEqual(run(argv, {}, 'trial: A', more));
  });

  test('output that cannot be written: 5', () => {
    const out = (): never => {
      throw new OutputLost();
    };
    expect(run(['verdict', 'examples/waste-fail.yaml'], {}, '', { out }, one).code).toBe(5);
  });

  test.each([
    [[]],
    [['verdict']],
    [['verdict', '--help']],
    [['verdict', '-q']],
    [['verdict', 'examples']],
    [['verdict', 'examples/*.yaml']],
    [['verdict', 'examples/harbour-street.yaml', 'examples/waste-fail.yaml']],
    [['plan', 'examples/harbour-street.yaml']],
  ])('%j is handed on, and nothing printed', (argv) => {
    expect(run(argv, {}, '', {}, one)).toEqual({ code: HANDED_ON, out: '', err: '', written: {} });
  });
});
