import { expect, test } from 'vitest';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { figure } from '../run.ts';

/*
 * Figures that are plain arithmetic. Source of the formulas: the project's design, in the terms of ASTM
 * F1856-04, 3.1.1 (toner usage; abstract seen) and of ISO/IEC 19752 and 19798 (yield; from memory); what is
 * held against the reference consumable, fixing, background and registration: common practice, no source.
 * The readings are invented. Every value is worked out by hand beside its figure; those that do not end were
 * computed with GNU bc 1.07 at 30 places.
 */
const TRIAL = `trial: Cooper Lane lot 21, machine Umber
meter: {start: 5000, end: 13000}
coverage: {black: 6 %}
paper: {size: {width: 200 mm, height: 300 mm}, grammage: 80 g/m²}
waste_container: {tare: 600 g, final: 720 g, capacity: 900 g}
cartridges:
  - {slot: black, start_mass: 900 g, end_mass: 500 g, fill_mass: 420 g, residual_mass: 20 g,
     exhausted_at: 13000, exhausted_by: stop, price: 48 EUR, rated_yield: 9000}
  - {slot: cyan, start_mass: 800 g, end_mass: 600 g, failed_at: 13000, failed_by: leak}
prints:
  background: 0.012
  fixing: {before: 1.40, after: 1.33}
  registration: 0.08 mm
  by_eye:
    - {attribute: density, severity: none}
    - {attribute: streaks, severity: minor}
  patches:
    - patch: black solid
      reference: {density: 1.45, lab: [50, 2.6772, -79.7751], gloss: 14.0}
      first: {density: 1.42, gloss: 12.5}
      last: {density: 1.38, lab: [50, 0, -82.7485], gloss: 11.0}
inspection:
  - {stage: after, part: fuser, severity: minor}
  - {stage: after, part: drum, severity: major}
reference:
  meter: {start: 1000, end: 5000}
  coverage: {black: 6 %}
  waste_container: {tare: 600 g, final: 640 g}
  cartridges:
    - {slot: black, start_mass: 900 g, end_mass: 740 g, exhausted_at: 5000, exhausted_by: stop}
`;

test.each([
  // 900 − 500.
  ['toner_used', 'black', '400', 'g'],
  // 400 + 200.
  ['toner_used', null, '600', 'g'],
  // 400 g over 8000 pages.
  ['toner_per_page', 'black', '50', 'mg'],
  // 8000 × (420 − 20) / 400.
  ['projected_yield', 'black', '8000', 'page'],
  // 8000 × 6 / 5.
  ['projected_yield_at_reference', 'black', '9600', 'page'],
  // 50 mg over 20 cm × 30 cm × 6 % = 36 cm².
  ['usage_per_area', 'black', '1.38888888889', 'mg/cm²'],
  // 120 of 600.
  ['waste_fraction', null, '20', '%'],
  ['transferred_fraction', null, '80', '%'],
  ['failed_cartridges', null, '1', '1'],
  // 1.38 − 1.42; 1.38 − 1.45.
  ['density_change', 'black solid', '-0.04', '1'],
  ['density_to_reference', 'black solid', '-0.07', '1'],
  // 11.0 − 12.5; 11.0 − 14.0.
  ['gloss_change', 'black solid', '-1.5', 'GU'],
  ['gloss_to_reference', 'black solid', '-3', 'GU'],
  ['background', null, '0.012', '1'],
  // 100 × 1.33 / 1.40.
  ['fixing', null, '95', '%'],
  ['registration', null, '0.08', 'mm'],
  // (120 / 8) / (40 / 4).
  ['waste_ratio', null, '1.5', '1'],
  // 50 mg against 160 g / 4000 = 40 mg.
  ['usage_ratio', 'black', '1.25', '1'],
  // 9600 against 4000 × 6 / 5.
  ['yield_ratio', 'black', '2', '1'],
  // 48 EUR × 1000 / 9600.
  ['cost_per_thousand', 'black', '5', 'EUR'],
])('%s of %s: %s %s', (name, of, value, unit) => {
  const found = figure(TRIAL, name, of);
  expect(found?.unit).toBe(unit);
  expect(new Decimal(found?.value ?? NaN).minus(value).abs().toNumber()).toBeLessThan(1e-11);
});

// The first pair of Table 1 of Sharma, Wu and Dalal 2005 (seen second-hand): 2.0425.
test('colour_to_reference', () => {
  expect(Number(figure(TRIAL, 'colour_to_reference', 'black solid')?.value).toFixed(4)).toBe('2.0425');
});

test('worst_finding: the worst of minor and major', () => {
  expect(figure(TRIAL, 'worst_finding')?.value).toBe('major');
});

test('worst_print: the worst of none and minor', () => {
  expect(figure(TRIAL, 'worst_print')?.value).toBe('minor');
});
