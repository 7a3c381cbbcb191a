import { describe, expect, it } from 'vitest';
import { judge } from '../run.ts';

const codes = (trial: string): string[] =>
  judge(trial)
    .notes.filter(({ kind }) => kind !== 'note')
    .map(({ code }) => code);

const run = (rest: string): string =>
  `trial: t\nmeter: {start: 1000, end: 9000}\nlimits: {pages: {min: 1}}\n${rest}`;

describe('what was changed is listed', () => {
  const once = 'events: [{at: 4000, kind: container_change}]\n';

  it('a container that was changed has a second one beside it', () => {
    const [first, second] = ['{tare: 640 g, final: 740 g}', '{tare: 641 g, final: 760 g}'];
    expect(codes(run(`waste_container: ${first}\n${once}`))).toContain('container-change-unlisted');
    expect(codes(run(`waste_container: [${first}]\n${once}`))).toContain('container-change-unlisted');
    expect(codes(run(`waste_container: [${first}, ${second}]\n${once}`))).toEqual([]);
    expect(codes(run(`waste_container: ${first}\nevents: []\n`))).toEqual([]);
  });

  it('and so has a cartridge, by its slot', () => {
    const changed = 'events: [{at: 4000, kind: cartridge_change, slot: black}]\n';
    const [black, cyan] = ['{slot: black, exhausted_at: 4000}', '{slot: cyan}'];
    const list = (cartridges: string): string => run(`cartridges: [${cartridges}]\n${changed}`);
    expect(codes(list(`${black}, ${cyan}`))).toContain('cartridge-change-unlisted');
    expect(codes(list(`${black}, {slot: black}, ${cyan}`))).not.toContain('cartridge-change-unlisted');
    expect(codes(list(`${black}, ${cyan}`).replace(', slot: black}]', ', slot: cyan}]'))).toContain(
      'cartridge-change-unlisted',
    );
    // An event without a slot is one of the two: no yield can be told of either.
    expect(codes(list(`${black}, ${cyan}`).replace(', slot: black}]', '}]'))).toContain(
      'cartridge-change-unlisted',
    );
  });

  it('one that is still in at the end has shown nothing of its yield, but the pages it printed', () => {
    // 5000 clicks, seven a page: 714.28571428…
    const text = run(`cartridges: [{slot: black, exhausted_at: 4000}, {slot: black}]\n`);
    const still = judge(text.replace('end: 9000', 'end: 9000, clicks_per_page: 7')).notes.filter(
      ({ code }) => code === 'still-in-at-end',
    );
    expect(still.map(({ message }) => message)).toEqual([expect.stringContaining('714.28571 pages')]);
  });

  it('is not what was put in and taken out again, or failed', () => {
    const still = (...cartridges: readonly string[]): boolean =>
      judge(run(`cartridges: [${cartridges.join(', ')}]\n`)).notes.some(
        ({ code }) => code === 'still-in-at-end',
      );
    const [first, second] = ['{slot: black, exhausted_at: 4000}', '{slot: black, removed_at: 8000}'];
    const failed = '{slot: black, failed_by: leak}';
    expect([still(first, '{slot: black}'), still(failed, '{slot: black, installed_at: 4000}')]).toEqual([
      true,
      true,
    ]);
    expect([still(first, second), still(first, failed)]).toEqual([false, false]);
    expect([still(first, '{slot: cyan}'), still(second, '{slot: black}')]).toEqual([false, false]);
  });

  it('changes that name no slot are of the cartridges listed beyond the first of every slot', () => {
    const [black, cyan] = [
      '{slot: black, removed_at: 3000}, {slot: black}',
      '{slot: cyan, removed_at: 5000}, {slot: cyan}',
    ];
    const changed = (...at: readonly number[]): string[] =>
      codes(
        run(
          `cartridges: [${black}, ${cyan}]\nevents: [${at.map((meter) => `{at: ${meter}, kind: cartridge_change}`).join(', ')}]\n`,
        ),
      );
    expect(changed(3000, 5000)).not.toContain('cartridge-change-unlisted');
    expect(changed(3000, 5000, 7000)).toContain('cartridge-change-unlisted');
  });

  it('a change at the first or the last reading of the run parts no pages', () => {
    const at = (meter: number): string[] =>
      codes(
        run(`cartridges: [{slot: black}]\nevents: [{at: ${meter}, kind: cartridge_change, slot: black}]\n`),
      );
    expect([1000, 9000].flatMap(at)).toEqual([]);
    for (const meter of [1001, 8999]) expect(at(meter)).toContain('cartridge-change-unlisted');
    const nowhere = 'events: [{kind: cartridge_change, slot: black}, {at: 5000, kind: jam}]\n';
    expect(codes(run(`cartridges: [{slot: black}]\n${nowhere}`))).toContain('cartridge-change-unlisted');
  });

  it('a change that names a slot is one of a cartridge that names none: no yield is told of it', () => {
    const changed = (cartridges: string, event = ', slot: black'): (string | undefined)[] => {
      const { figures, notes } = judge(
        run(`coverage: 5 %\n${cartridges}events: [{at: 4000, kind: cartridge_change${event}}]\n`),
      );
      return [
        figures.find(({ figure }) => figure === 'yield')?.value,
        notes.find(({ code }) => code === 'cartridge-change-unlisted')?.message.split('.')[0],
      ];
    };
    expect(changed('')).toEqual([undefined, undefined]);
    expect(changed('cartridges: [{serial: P-1}]\n')).toEqual([
      undefined,
      'The cartridge of black was changed once, but only one is listed',
    ]);
    expect(changed('cartridges: [{removed_at: 4000}, {serial: P-2}]\n')).toEqual(['3000', undefined]);
  });

  it('two cartridges do not have one serial number', () => {
    const list = (serial: string): string =>
      run(`cartridges: [{slot: black, serial: P-1}, {slot: cyan, serial: ${serial}}]\n`);
    expect(codes(list('P-1'))).toContain('serial-twice');
    expect(codes(list('P-2'))).not.toContain('serial-twice');
  });

  it('nor a cartridge and the one that it is held against; a drum stays where it is', () => {
    const beside = (serial: string, life = ''): string =>
      run(
        `cartridges: [{slot: black, serial: P-1${life}}]\nreference: {meter: {start: 100, end: 900}, cartridges: [{slot: black, serial: ${serial}${life}}]}\n`,
      );
    const said = (text: string) => judge(text).notes.filter(({ code }) => code === 'serial-twice');
    expect(said(beside('p-1 '))).toMatchObject([
      {
        key: 'serial',
        message: expect.stringContaining('The cartridge of the reference, black has') as string,
      },
    ]);
    expect(said(beside('P-2'))).toEqual([]);
    expect(said(beside('P-1', ', life: pages'))).toEqual([]);
  });

  it('no pages are printed with an empty slot', () => {
    const list = (installed: string): string =>
      run(`cartridges: [{slot: black, exhausted_at: 4000}, {slot: black, installed_at: ${installed}}]\n`);
    expect(codes(list('4100'))).toContain('slot-empty');
    expect(codes(list('4000'))).not.toContain('slot-empty');
    // A cartridge whose print faded prints on, until it is taken out.
    const faded = (removed: string, installed: string): string =>
      list(installed).replace('4000', `4000, exhausted_by: fade${removed}`);
    expect(codes(faded('', '4100'))).not.toContain('slot-empty');
    expect(codes(faded(', removed_at: 4050', '4100'))).toContain('slot-empty');
    expect(codes(faded(', removed_at: 4100', '4100'))).not.toContain('slot-empty');
  });

  it('nor before the first cartridge with toner was fitted, but for a few pages', () => {
    const fitted = (at: string, more = ''): string[] =>
      codes(run(`cartridges: [{slot: black, installed_at: ${at}${more}}]\n`));
    expect(fitted('1101')).toContain('slot-empty');
    expect(fitted('1100')).not.toContain('slot-empty');
    expect(fitted('4000', ', life: pages')).not.toContain('slot-empty');
  });
});

describe('cartridges that failed', () => {
  const failing = (rest: string): string[] =>
    judge(run(`cartridges: [{slot: black, ${rest}}]\n`))
      .notes.filter(({ code }) => code === 'cartridge-failed')
      .map(({ message }) => message);

  it('are spoken of, and how far their pages are counted', () => {
    const [counted] = failing('failed_at: 4000, failed_by: leak');
    expect(counted).toContain('failed at meter 4000, but its pages are counted to 9000');
    const [removed] = failing('failed_at: 4000, failed_by: leak, removed_at: 4000');
    expect(removed).toContain('failed at meter 4000.');
    expect(failing('failed_by: leak')).toHaveLength(1);
    expect(failing('exhausted_at: 9000')).toEqual([]);
  });
});

describe('the containers of a run and what they weighed on the way', () => {
  const containers = (first: string): string =>
    `waste_container: [{tare: 640 g, final: ${first}}, {tare: 641 g, final: 760 g}]\n`;
  const events = 'events: [{at: 4000, kind: container_change}]\n';
  const batches = (masses: readonly (readonly [end: number, mass: number])[]): string =>
    `batches: [${masses.map(([end, mass]) => `{end: ${end}, container_mass: ${mass} g}`).join(', ')}]\n`;

  it('a final weight below one on the way is questioned, container by container', () => {
    const readings = batches([
      [2000, 700],
      [3000, 745],
      [6000, 700],
    ]);
    expect(codes(run(containers('676 g') + events + readings))).toEqual(['interim-above-final']);
    expect(codes(run(containers('790 g') + events + readings))).toEqual([]);
  });

  it('at the change it may be either that was weighed', () => {
    const readings = batches([
      [2000, 700],
      [4000, 642],
      [6000, 700],
    ]);
    expect(codes(run(containers('790 g') + events + readings))).toEqual([]);
  });

  it('nothing is said where the changes were not noted', () => {
    const readings = batches([
      [3000, 745],
      [6000, 660],
    ]);
    expect(codes(run(containers('700 g') + readings))).toEqual([]);
  });
});

it('a count with a point before its thousands is asked about', () => {
  const [note] = judge('trial: t\nmeter: {start: 9.000}\n').notes;
  expect(note?.code).toBe('grouped-digits');
  expect(note?.message).toContain('Write them together: 9000.');
  const [comma] = judge('trial: t\nmeter: {start: "9,000"}\n').notes;
  expect(comma?.message).toContain('without a mark: 9000.');
});

it('a changed cartridge with weights and a gauge that is not listed keeps no check from the rest', () => {
  const { notes } = judge(`trial: Weir Street lot 4
meter: {start: 10000, end: 30000}
coverage: 5 %
cartridges: [{slot: black, start_mass: 900 g, end_mass: 500 g, fill_mass: 600 g, gauge: {start: 100 %, end: 30 %}}]
events: [{at: 20000, kind: cartridge_change, slot: black}]
`);
  expect(notes.map(({ code }) => code)).not.toContain('internal-fault');
  expect(notes.map(({ code }) => code)).toContain('cartridge-change-unlisted');
});
