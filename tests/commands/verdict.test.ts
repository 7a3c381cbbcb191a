import { describe, expect, test } from 'vitest';
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
