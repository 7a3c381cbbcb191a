import { describe, expect, test } from 'vitest';
import type { Derived } from '../../src/figures/figure.ts';
import type { Decision, Precision } from '../../src/judge/limits.ts';
import { precisionOf, Repeated, repeated } from '../../src/judge/repeated.ts';
import { withHouseUsage } from '../../src/judge/house-usage.ts';
import type { Usage } from '../../src/trial/usage/usage.ts';
import type { Stat } from '../../src/trial/catalogue.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { Measured } from '../../src/uncertainty/measured.ts';
import { assessed } from '../assessed.ts';

/* What a decision takes from elsewhere: how a figure scatters over repeated trials, and toner at no coverage. */

const value = (u: string): Measured =>
  Measured.reading(new Decimal(20), [{ path: [], value: new Decimal(20), unit: 'g', u: new Decimal(u) }]);

const precision = (sd: string, freedom: number, of: string | null = null, figure = 'yield'): Precision => ({
  figure,
  of,
  sd: new Decimal(sd),
  freedom,
});

describe('the uncertainty of a figure if repeated (JCGM 100:2008, G.4.1, from memory; by hand)', () => {
  test('readings of 0.3 and a scatter of 0.4 of 9 degrees: 0.5 of 9 × 0.5⁴ / 0.4⁴ = 21.97 degrees', () => {
    const again = new Repeated(value('0.3'), precision('0.4', 9));
    expect(again.u.toFixed()).toBe('0.5');
    expect(again.freedom).toBeCloseTo(21.97265625, 10);
    // t of Φ(2) and P(T ≤ 1.2) at these degrees: 2.120399 and 0.878541 (scipy 1.17.1).
    expect(again.expanded(2).toNumber()).toBeCloseTo(0.5 * 2.120398643, 8);
    expect(again.upTo(new Decimal('20.6'), new Decimal(20))).toBeCloseTo(0.878540756, 8);
  });

  test('without a scatter it is that of the readings, and normal', () => {
    const again = new Repeated(value('0.3'), precision('0', 9));
    expect([again.u.toFixed(), again.freedom]).toEqual(['0.3', Infinity]);
    expect(again.expanded(2).toFixed()).toBe('0.6');
    // Φ(2), of the tables.
    expect(again.upTo(new Decimal('20.6'), new Decimal(20))).toBeCloseTo(0.97725, 5);
  });
});

describe('which precision is taken', () => {
  const known = [
    precision('1', 5),
    precision('2', 5, 'black'),
    precision('3', 5, 'cyan#2'),
    precision('4', 5, null, 'pages'),
  ];
  const decision: Decision = { rule: 'guarded', factor: new Decimal(2), precision: known };
  const derived = (name: string, of: string | null, stat: Stat | null = null): Derived =>
    ({ figure: { name }, of, stat }) as Derived;
  const sd = (name: string, of: string | null, stat: Stat | null = null): string | undefined =>
    precisionOf(decision, derived(name, of, stat))?.sd.toFixed();

  test('that of the very part, else of its slot, else of every one', () => {
    expect(sd('yield', 'black')).toBe('2');
    expect(sd('yield', 'black#2')).toBe('2');
    expect(sd('yield', 'cyan#2')).toBe('3');
    expect(sd('yield', 'cyan')).toBe('1');
    expect(sd('yield', null)).toBe('1');
    expect(sd('pages', null)).toBe('4');
    expect(sd('sheets', null)).toBeUndefined();
  });

  test('none for a stat, of which there is no scatter known, nor for what is only a bound', () => {
    expect(sd('yield', null, 'least')).toBeUndefined();
    const black = derived('yield', 'black');
    expect(repeated(value('0.3'), black, decision)?.u.toNumber()).toBeCloseTo(Math.hypot(0.3, 2), 12);
    expect(repeated(value('0.3').as('at_least'), black, decision)).toBeNull();
    expect(repeated(value('0.3'), derived('sheets', null), decision)).toBeNull();
  });

  test('none of a part where only other parts have one', () => {
    const parts: Decision = { ...decision, precision: [precision('2', 5, 'black')] };
    expect(precisionOf(parts, derived('yield', 'cyan'))).toBeNull();
    expect(precisionOf(parts, derived('yield', null))).toBeNull();
  });
});

describe('toner at no coverage that the limits name a file for', () => {
  const trial = (slots: readonly string[], more = '') =>
    assessed(
      `trial: Weir Street\nmeter: {start: 0, end: 9000}\ncartridges: [${slots.map((slot) => `{slot: ${slot}}`).join(', ')}]\n${more}`,
    ).trial;
  const slot = (name: string | null, m0: string, u: string): Usage['slots'][number] => ({
    slot: name,
    m0: new Decimal(m0),
    u: new Decimal(u),
    cartridges: null,
    from: null,
    to: null,
  });
  const usage = (...slots: Usage['slots']): Usage => ({ model: null, machines: [], slots });
  const of = (found: ReturnType<typeof trial>, name: string | null) => {
    const reading = found.run.nonImageUsage(name);
    return (
      reading?.measured && [reading.path, reading.measured.value.toFixed(), reading.measured.u.toFixed()]
    );
  };
  const PATH = ['limits', 'non_image_usage'];

  test('is taken slot by slot, with its uncertainty and where it stands', () => {
    const found = withHouseUsage(
      trial(['black', 'cyan']),
      usage(slot('black', '6', '0.5'), slot('cyan', '4', '0')),
    );
    expect(of(found, 'black')).toEqual([[...PATH, 'black'], '6', '0.5']);
    expect(of(found, 'cyan')).toEqual([[...PATH, 'cyan'], '4', '0']);
    expect(of(found, 'magenta')).toBeUndefined();
    expect(found.run.nonImageUsage('black')?.measured?.restsOn).toEqual([[...PATH, 'black']]);
  });

  test('of a file of one slot without a name it is that of the only slot, not of one of two', () => {
    const house = usage(slot(null, '6', '0.5'));
    expect(of(withHouseUsage(trial(['black']), house), 'black')).toEqual([[...PATH, 'black'], '6', '0.5']);
    expect(of(withHouseUsage(trial(['black']), house), null)).toEqual([PATH, '6', '0.5']);
    expect(of(withHouseUsage(trial(['black', 'cyan']), house), 'black')).toBeUndefined();
    // Two cartridges of one slot are one slot.
    expect(of(withHouseUsage(trial(['black', 'black']), house), 'black')?.[1]).toBe('6');
  });

  test('gives way to that of the trial', () => {
    const own = trial(['black'], 'coverage: 5 %\nnon_image_usage: 9 mg\n');
    const house = usage(slot('black', '6', '0.5'));
    expect(withHouseUsage(own, house)).toBe(own);
    expect(withHouseUsage(trial(['black']), house)).not.toBe(own);
    const none = trial(['black']);
    expect(withHouseUsage(none, null)).toBe(none);
  });
});
