import { expect, test } from 'vitest';
import { run } from '../run.ts';

test('only the coverage is common to all trials: neither the scale nor the toner at zero coverage', () => {
  /*
   * 240 g over 12000 pages are m = 20 mg a page, m₀ = 4 mg, coverage 10 %, to be carried to 5 %:
   * 12000 × 20 / (4 + 16 × 0.5) = 20000. Its slope with the coverage is 12000 × 20 × (16 × 0.5 / 10) / 12² = 1333.33
   * pages for a percent, and 0.3 % / √3 = 0.173205 % of it 230.940 pages.
   */
  const trial = (name: string): string => `trial: Weir Street ${name}
machine: {label: Ash}
meter: {start: 30000, end: 42000}
instruments: {scale: {max_error: 5 g}}
coverage: {value: 10 %, tolerance: 0.3 %}
non_image_usage: 4 mg
cartridges: [{slot: black, serial: ${name}, start_mass: 800 g, end_mass: 560 g, exhausted_at: 42000}]
`;
  const files = { 'a.yaml': trial('A1'), 'b.yaml': trial('A2'), 'c.yaml': trial('A3') };
  const { out } = run(['pool', ...Object.keys(files), '--format', 'json'], files);
  const [group] = (JSON.parse(out) as { groups: { mean: string; common_u: string }[] }).groups;
  expect(group?.mean).toBe('20000');
  expect(Number(group?.common_u)).toBeCloseTo(230.94, 3);
});
