import { describe, expect, test } from 'vitest';
import { main as verdictAlone } from '../../src/commands/entry-verdict.ts';
import { OutputLost } from '../../src/commands/io.ts';
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

describe('the program with this command alone', () => {
  test.each([
    [[]],
    [['examples/harbour-street.yaml']],
    [['examples/harbour-street.yaml', 'examples/waste-fail.yaml']],
    [['examples/limits', 'examples/warm-room.yaml']],
    [['examples/four-*.yaml']],
    [['nowhere.yaml']],
    [['']],
    [['-']],
    [['--', 'examples/harbour-street.yaml']],
    [['examples/harbour-street.yaml', '-q']],
    [['--format=json', 'examples/harbour-street.yaml']],
    [['examples/harbour-street.yaml', '--columns=file']],
    [['examples/harbour-street.yaml', '--nonesuch']],
    [['help']],
    [['--help']],
  ])('verdict %j: the same as with all of them', (words) => {
    const argv = ['verdict', ...words];
    expect(run(argv, {}, 'trial: A', {}, verdictAlone)).toEqual(run(argv, {}, 'trial: A'));
  });

  test('output that cannot be written: 5', () => {
    const out = (): never => {
      throw new OutputLost();
    };
    expect(run(['verdict', 'examples/waste-fail.yaml'], {}, '', { out }, verdictAlone).code).toBe(5);
  });
});
