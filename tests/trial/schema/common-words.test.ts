import { describe, expect, it } from 'vitest';
import { meantKey } from '../../../src/trial/schema/common-words.ts';

// The keys are those of the trial file; which word means which is everyday speech, with no source.
describe('a common word for a key', () => {
  const ambient = ['at', 'temperature', 'humidity'];
  const container = ['tare', 'final', 'capacity', 'rated_life'];
  it.each([
    ['rh', ambient, 'humidity'],
    ['Temp', ambient, 'temperature'],
    ['empty', container, 'tare'],
    ['full', container, 'final'],
    ['before', container, 'tare'],
    ['end', container, 'final'],
    ['after', ['start', 'end'], 'end'],
    ['empty', ['start_mass', 'end_mass'], 'end_mass'],
    // Nearer by its letters to failed_at, which means something else.
    ['fitted_at', ['installed_at', 'failed_at', 'failed_by'], 'installed_at'],
    ['humidty', ambient, 'humidity'],
    ['packaging', ambient, null],
  ])('%s', (written, known, meant) => {
    expect(meantKey(written, known)).toBe(meant);
  });

  it('one that is known elsewhere is guessed by one letter at most', () => {
    expect(meantKey('tare', ['start', 'end', 'digits'], true)).toBe(null);
    expect(meantKey('part', ['parts', 'label'], true)).toBe('parts');
  });
});
