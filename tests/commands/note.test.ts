import { describe, expect, it } from 'vitest';
import { type Ran, run } from '../run.ts';

const TRIAL = `# by the window
trial: {title: Ferry Steps lot 3, started: }
target: {pages: 6000, batch: 2000}
limits: {waste_per_thousand: {max: 25 g}, temperature: {min: 18, max: 26}}
coverage: 5 %
cartridges:
  - {slot: black, start_mass: 812 g, end_mass}   # weighed on BAL-2
waste_container: {tare, final}
meter:
  start:   # before the first page
  end:
`;

/** Notes one after the other, each on what the one before it left. */
function notes(text: string, ...lines: readonly (readonly string[])[]): Ran & { readonly text: string } {
  let now = text;
  let last: Ran | undefined;
  for (const line of lines) {
    if (last !== undefined) expect(last.code, last.err).toBe(0);
    last = run(['note', 't.yaml', ...line], { 't.yaml': now });
    now = last.written['t.yaml'] ?? now;
  }
  if (last === undefined) throw new Error('nothing to note');
  return { ...last, text: now };
}

const START = ['--start', '--meter', '41902', '--tare', '612g'];
const FIRST = ['--meter', '43902', '--container', '661', '--temperature', '21.4', '--humidity', '46'];

describe('a run as it happens', () => {
  it('is written where it belongs, with the time', () => {
    const { code, text, err } = notes(
      TRIAL,
      START,
      FIRST,
      ['--event', 'jam', '--slot', 'black', '--meter', '44120', '--text', 'second tray'],
      [
        '--meter',
        '45902',
        '--container',
        '711.0',
        '--at',
        '14:40',
        '--started',
        '9:20',
        '--text',
        'new ream',
      ],
      [
        '--exhausted',
        'black',
        '--meter',
        '46000',
        '--by',
        'stop',
        '--fitted',
        'serial=K20-0117,start_mass=812g',
      ],
      ['--end', '--meter', '47902', '--final', '761', '--at', '15:30'],
      ['--finding', 'fuser', '--severity', 'none', '--stage', 'after', '--no-time'],
      ['--reading', 'cartridges[1].end_mass=401', '--reading', 'cartridges[2].end_mass=760.5g'],
    );
    expect(err).toBe('');
    expect(code).toBe(0);
    expect(text).toBe(`# by the window
trial: {title: Ferry Steps lot 3, started: 2026-03-09T09:10, finished: 2026-03-09T15:30}
target: {pages: 6000, batch: 2000}
limits: {waste_per_thousand: {max: 25 g}, temperature: {min: 18, max: 26}}
coverage: 5 %
cartridges:
  - {slot: black, start_mass: 812 g, end_mass: 401 g, exhausted_at: 46000, exhausted_by: stop}   # weighed on BAL-2
  - {slot: black, serial: K20-0117, start_mass: 812 g, end_mass: 760.5 g}
waste_container: {tare: 612 g, final: 761 g}
meter:
  start: 41902   # before the first page
  end: 47902
batches:
  - {end: 43902, finished: 2026-03-09T09:10, container_mass: 661 g}
  - {end: 45902, started: 2026-03-09T09:20, finished: 2026-03-09T14:40, container_mass: 711.0 g, note: new ream}
ambient:
  - {at: 2026-03-09T09:10, temperature: 21.4 °C, humidity: 46 %}
events:
  - {at: 44120, kind: jam, slot: black, note: second tray}
inspection:
  - {stage: after, part: fuser, severity: none}
`);
  });

  it('says what it means', () => {
    const said = (...lines: string[][]): string => notes(TRIAL, ...lines).out.replace(/\s+/g, ' ');
    expect(said(START)).toContain('Next: batch 1, to meter 43902.');
    const first = said(START, FIRST);
    // 49 g on 2000 pages.
    expect(first).toMatch(
      /24\.50 ± 0\.\d+ g of waste per thousand pages since the last weighing; it is the first/,
    );
    expect(first).toContain('Next: batch 2, to meter 45902.');
    // 56 g on 2000 pages; 105 g on 4000.
    const second = said(START, FIRST, ['--meter', '45902', '--container', '717', '--temperature', '27']);
    expect(second).toMatch(/28\.00 ± 0\.\d+ g of waste/);
    expect(second).toMatch(/24\.50 ± 0\.\d+ g in the stretch before it/);
    expect(second).toMatch(/would be missed if the run went on as it did: 26\.25/);
    expect(second).toContain('Now missed: temperature, greatest, 18 to 26 °C (margin -1.00 °C)');
    expect(second).toContain('Next: the end of the run, at meter 47902 (--end).');
    const jam = ['--event', 'jam', '--meter', '44120'];
    expect(said(START, FIRST, jam, jam)).toContain('Events of the kind jam by now: 2.');
    const end = said(START, FIRST, ['--end', '--meter', '47902', '--final', '950']);
    // 289 g on 4000 pages after 24.5 g a thousand: one of the weights must be wrong.
    expect(end).toContain('CHECK FIRST');
    expect(end).toContain('Next: cartridges[1].end_mass.');
  });
});

describe('a batch that is not of the trial', () => {
  it('is marked with an option, with the coverage of its pages', () => {
    const { text } = notes(
      TRIAL,
      START,
      [...FIRST, '--coverage', 'black=7'],
      ['--meter', '44902', '--container', '711', '--other', '--coverage', '20%', '--text', 'a letter'],
    );
    expect(text).toContain('container_mass: 661 g, coverage: {black: 7 %}}\n');
    expect(text).toContain('container_mass: 711 g, other: true, note: a letter, coverage: 20 %}\n');
  });

  it('is marked by the name of the key, as true and not as a text', () => {
    const { text } = notes(TRIAL, START, FIRST, ['--reading', 'batches[1].other=true']);
    expect(text).toContain('container_mass: 661 g, other: true}\n');
  });

  const OTHER = ['--meter', '44902', '--container', '711', '--other', '--coverage', '20%'];
  const SECOND = ['--meter', '46902', '--container', '761'];
  const flat = (out: string): string => out.replace(/\s+/g, ' ');

  it('is held against nothing, and nothing against it', () => {
    const other = flat(notes(TRIAL, START, FIRST, OTHER).out);
    expect(other).toContain('This batch is not of the trial: its pages count in no figure');
    expect(other).not.toContain('since the last weighing');
    // 50 g on 2000 pages, after 49 g on 2000; the 50 g on 1000 pages of the letter are not among them.
    expect(flat(notes(TRIAL, START, FIRST, OTHER, SECOND).out)).toMatch(
      /25\.00 ± 0\.\d+ g of waste per thousand pages since the last weighing; 24\.50 ± 0\.\d+ g in the stretch before it under the same conditions\./,
    );
    // At another coverage.
    expect(flat(notes(TRIAL, START, [...FIRST, '--coverage', '7'], SECOND).out)).toContain(
      'no stretch before it was printed under the same conditions.',
    );
  });

  it('is no batch of the plan: what is next is what the verdict says', () => {
    const { out, text } = notes(TRIAL, START, FIRST, OTHER);
    expect(out).toContain('Next: batch 2, to meter 46902.');
    expect(run(['verdict', 't.yaml'], { 't.yaml': text }).out).toContain('Next: batch 2, to meter 46902.');
    // Without a plan the batches of the trial are counted.
    expect(notes(TRIAL.replace(/target.*\n/, ''), START, FIRST, OTHER).out).toContain('Next: batch 2.');
  });
});

describe('prints judged by eye', () => {
  const grade = (...more: string[]): string[] => ['--print', 'background', '--grade', ...more];
  const PLANNED = `${TRIAL}prints:
  by_eye:
    - {attribute: density, stage: last, severity: }
    - {attribute: background, stage: first, severity: }   # the control page
    - {attribute: background, stage: last, severity: }
`;

  it('get a list of their own where there is none', () => {
    const { text } = notes(TRIAL, START, grade('none', '--slot', 'black', '--stage', 'last'), [
      '--print',
      'streaks',
      '--grade',
      'minor',
      '--batch',
      '2',
      '--by',
      'Ana',
      '--against',
      'first',
    ]);
    expect(text).toContain(`prints:
  by_eye:
    - {attribute: background, slot: black, stage: last, severity: none}
    - {attribute: streaks, batch: 2, severity: minor, by: Ana, against: first}
`);
    const measured = notes(`${TRIAL}prints:   # by the window\n`, grade('none')).text;
    expect(measured).toContain('prints:   # by the window\n  by_eye:\n    - {attribute: background');
    const inBraces = notes('{trial: T, meter: {start: 1}}\n', grade('none', '--text', 'as new')).text;
    expect(inBraces).toBe(
      '{trial: T, meter: {start: 1}, prints: {by_eye: [{attribute: background, severity: none, note: as new}]}}\n',
    );
  });

  it('fill the line that waits for them; a second person gets a line of their own', () => {
    const { text } = notes(
      PLANNED,
      START,
      grade('none', '--stage', 'last', '--by', 'Ana'),
      grade('minor', '--stage', 'last', '--by', 'Bo', '--text', 'grey', '--photo', 'grey.jpg'),
    );
    expect(text).toContain(`prints:
  by_eye:
    - {attribute: density, stage: last, severity: }
    - {attribute: background, stage: first, severity: }   # the control page
    - {attribute: background, stage: last, severity: none, by: Ana}
    - {attribute: background, stage: last, severity: minor, by: Bo, note: grey, photo: grey.jpg}
`);
  });

  it('are not judged again unless that is said', () => {
    const { text } = notes(TRIAL, START, grade('none', '--stage', 'last'));
    const again = run(['note', 't.yaml', ...grade('major', '--stage', 'last')], { 't.yaml': text });
    expect([again.code, again.written]).toEqual([3, {}]);
    expect(again.err.replace(/\s+/g, ' ')).toContain(
      'prints.by_eye[1].severity is read already: none. If that was wrong, --correct writes major and keeps the old one as a comment. Another print is told apart by --slot, --stage or --batch, another person by --by.',
    );
    expect(notes(text, [...grade('major', '--stage', 'last'), '--correct']).text).toContain(
      '- {attribute: background, stage: last, severity: major} # severity was none\n',
    );
  });

  it('count for their limit at once', () => {
    const { out } = notes(
      TRIAL.replace('limits: {', 'limits: {worst_print: {max: minor}, '),
      START,
      grade('major', '--stage', 'last'),
    );
    expect(out.replace(/\s+/g, ' ')).toContain('Now missed: worst print by eye, at most minor');
  });

  it('tell each of several limits on one figure, when it is missed', () => {
    const { out } = notes(
      TRIAL.replace('{min: 18, max: 26}', '[{max: 24}, {max: 26}]'),
      START,
      ['--temperature', '25', '--at', '10:00'],
      ['--temperature', '27', '--at', '11:00'],
    );
    expect(out.replace(/\s+/g, ' ')).toContain('Now missed: temperature, greatest, at most 26 °C');
    expect(out).not.toContain('at most 24');
  });

  it('leave a limit open where two people differ across it, and say so', () => {
    const text = TRIAL.replace('limits: {', 'limits: {worst_print: {max: minor}, ');
    const { out } = notes(
      text,
      START,
      grade('none', '--stage', 'last', '--by', 'Ana'),
      grade('major', '--stage', 'last', '--by', 'Bo'),
    );
    expect(out.replace(/\s+/g, ' ')).toContain(
      'Open now: worst print by eye; people differ on background (Ana none, Bo major). Look at the prints together, and agree; or ask a third person.',
    );
    expect(out).not.toContain('Now missed');
  });

  it('are asked for where the work comes to them', () => {
    const asked = (...lines: string[][]): string =>
      run(['note', 't.yaml'], { 't.yaml': notes(PLANNED, ...lines).text }).out.replace(/\s+/g, ' ');
    expect(run(['note', 't.yaml'], { 't.yaml': PLANNED }).out.replace(/\s+/g, ' ')).toMatch(
      /--tare .*--reading prints\.by_eye\[2\]\.severity= By eye, background, first print against the reference: none, minor, major or critical --meter/,
    );
    expect(asked(START)).not.toContain('by_eye');
    const after = asked(START, ['--end', '--meter', '47902', '--final', '761']);
    expect(after).toMatch(/end_mass.*by_eye\[1\].*by_eye\[2\].*by_eye\[3\]/);
  });
});

describe('a mass that was weighed several times', () => {
  it('is a list, in one option or several', () => {
    const { text } = notes(
      TRIAL,
      ['--start', '--meter', '41902', '--tare', '612g,613g, 612'],
      ['--meter', '43902', '--container', '661', '--container', '662.0'],
      ['--exhausted', 'black', '--meter', '44000', '--fitted', 'start_mass=812g,811g,serial=K-2'],
      ['--reading', 'cartridges[1].end_mass=401g,402g'],
      ['--end', '--meter', '47902', '--final', '1069g,1070g,1069g'],
    );
    expect(text).toContain('waste_container: {tare: [612 g, 613 g, 612 g], final: [1069 g, 1070 g, 1069 g]}');
    expect(text).toContain('container_mass: [661 g, 662.0 g]}');
    expect(text).toContain('{slot: black, start_mass: [812 g, 811 g], serial: K-2, end_mass: }');
    expect(text).toContain('end_mass: [401 g, 402 g]');
  });

  it('is noted of the cartridges, by slot: in a batch, and before and after the run', () => {
    const two = TRIAL.replace(/ {2}- \{slot: black.*/, '  - {slot: black, start_mass}\n  - {slot: cyan}');
    const { text } = notes(
      two,
      [...START, '--cartridge', 'black=812g,813g', '--cartridge', 'cyan=801.5'],
      [...FIRST, '--cartridge', 'black=700', '--cartridge', 'cyan=690.5g'],
      ['--end', '--meter', '47902', '--final', '761', '--cartridge', 'cyan=650'],
    );
    expect(text).toContain('{slot: black, start_mass: [812 g, 813 g]}');
    expect(text).toContain('{slot: cyan, start_mass: 801.5 g, end_mass: 650 g}');
    expect(text).toContain('container_mass: 661 g, cartridge_mass: {black: 700 g, cyan: 690.5 g}}');
    const again = run(['note', 't.yaml', '--meter', '43902', '--cartridge', 'black=701'], { 't.yaml': text });
    expect(again.code).toBe(3);
    expect(again.err.replace(/\s+/g, ' ')).toContain(
      'batches[1].cartridge_mass.black is read already: 700 g.',
    );
    const blue = run(['note', 't.yaml', ...START, '--cartridge', 'blue=7'], { 't.yaml': two });
    expect([blue.code, blue.written]).toEqual([3, {}]);
    expect(blue.err).toContain('no cartridge is in a slot "blue"');
    const alone = notes(TRIAL.replace('slot: black, ', ''), START, [...FIRST, '--cartridge', '700g']).text;
    expect(alone).toContain('cartridge_mass: 700 g}');
  });

  it('is replaced as a whole, and only when that is said', () => {
    const { text } = notes(TRIAL, ['--start', '--meter', '41902', '--tare', '612g,613g']);
    const tare = (...values: string[]): string[] => ['--start', '--meter', '41902', '--tare', ...values];
    expect(run(['note', 't.yaml', ...tare('612g,613g')], { 't.yaml': text }).err).toContain(
      'stands there already',
    );
    const other = run(['note', 't.yaml', ...tare('612g,614g')], { 't.yaml': text });
    expect(other.code).toBe(3);
    expect(other.err.replace(/\s+/g, ' ')).toContain('waste_container.tare is read already: 612 g, 613 g.');
    expect(notes(text, tare('614g', '--correct')).text).toContain(
      'waste_container: {tare: 614 g, final} # tare was [612 g, 613 g]\n',
    );
  });

  it('is not read out of a decimal comma', () => {
    const { code, err } = run(['note', 't.yaml', '--start', '--meter', '41902', '--tare', '612,5 g'], {
      't.yaml': TRIAL,
    });
    expect(code).toBe(4);
    expect(err).toContain('612.5 g');
  });
});

describe('nothing is written', () => {
  const noted = notes(TRIAL, START, FIRST).text;

  it.each([
    [['--meter', '43902', '--container', '662'], 'batches[1].container_mass is read already: 661 g'],
    [['--start', '--meter', '41903'], 'meter.start is read already: 41902'],
    [['--meter', '43902', '--container', '661g'], 'stands there already'],
    [['--meter', '43000'], '43000 does not come after 43902'],
    [['--meter', '45902', '--container', '600'], 'less than the 612 g it weighs empty'],
    [['--event', 'jams', '--meter', '44000'], 'Did you mean "jam"?'],
    [['--event', 'jam', '--slot', 'blue'], 'No cartridge is in a slot "blue"'],
    [['--exhausted', 'cyan', '--meter', '44000'], 'no cartridge is in a slot "cyan"'],
    [['--finding', 'fuser', '--severity', 'bad'], '"bad"'],
    [['--temperature', '21', '--at', '2026-03-09T09:20Z'], 'offset'],
    [['--reading', 'meter.begin=4'], 'begin'],
    [['--print', 'backgroud', '--grade', 'none'], 'Did you mean "background"?'],
    [['--print', 'background', '--grade', 'good'], '"good"'],
  ])('%j: refused by the rules', (options, why) => {
    const { code, err, out, written } = run(['note', 't.yaml', ...options], { 't.yaml': noted });
    expect(err.replace(/\s+/g, ' ')).toContain(why);
    expect(err.replace(/\s+/g, ' ')).toMatch(/nothing was written/i);
    expect([code, out, written]).toEqual([3, '', {}]);
  });

  it.each([
    [['--meter', '45,902'], '--meter: '],
    [['--meter', '45902', '--container', '66a'], '--container: '],
    [['--container', '662'], 'a batch (--meter) needs --meter'],
    [['--start', '--end', '--meter', '3'], '--start and --end are two notes'],
    [['--end', '--meter', '45902', '--container', '700'], '--final is meant'],
    [['--finding', 'fuser'], '--finding needs --severity'],
    [['--slot', 'black'], '--slot needs --event, --finding or --print'],
    [['--event', 'jam', '--at', '9:10'], '--at has no part in --event'],
    [['--temperature', '21', '--at', 'noon'], '--at: '],
    [['--exhausted', 'black', '--meter', '44000', '--fitted', 'colour=red'], 'takes no "colour"'],
    [['--fitted', 'serial=1'], '--fitted needs --exhausted'],
    [['--cartridge', 'black=420'], '--exhausted (of the one that is out) or --end'],
    [
      ['--exhausted', 'black', '--meter', '44000', '--cartridge', 'cyan=7'],
      '--meter without --exhausted is meant',
    ],
    [['--other'], '--other needs --meter'],
    [['--end', '--meter', '45902', '--coverage', '20'], '--coverage has no part in --end'],
    [['--print', 'background'], '--print needs --grade'],
    [['--print', 'background', '--severity', 'none'], '--grade is meant'],
    [['--grade', 'none'], '--grade needs --print'],
    [['--reading', 'final'], '--reading needs NAME=VALUE'],
    [['--at', '9:10'], '--at says nothing by itself'],
    [['--correct'], '--correct says nothing by itself'],
  ])('%j: wrong usage', (options, why) => {
    const { code, err, out, written } = run(['note', 't.yaml', ...options], { 't.yaml': noted });
    expect(err.replace(/\s+/g, ' ')).toContain(why);
    expect([code, out, written]).toEqual([4, '', {}]);
  });

  it('where there is no file, or it is no YAML', () => {
    expect(run(['note', 'gone.yaml', ...FIRST]).code).toBe(3);
    const { code, written } = run(['note', 't.yaml', ...FIRST], { 't.yaml': 'trial: {' });
    expect([code, written]).toEqual([3, {}]);
    expect(run(['note', '-', ...FIRST], {}, TRIAL).code).toBe(4);
  });

  it('where the file cannot be written, or has changed meanwhile', () => {
    const rewrite = (): never => {
      throw Object.assign(new Error('x'), { code: 'CHANGED' });
    };
    const { code, err } = run(['note', 't.yaml', ...START], { 't.yaml': TRIAL }, '', { rewrite });
    expect(code).toBe(5);
    expect(err).toContain('t.yaml was not written: it changed while it was read; try again');
  });
});

describe('a reading that was wrong', () => {
  const noted = notes(TRIAL, START, FIRST).text;

  it('is replaced when it is said, and kept as a comment', () => {
    const { text } = notes(noted, ['--meter', '43902', '--container', '662', '--correct']);
    expect(text).toContain('container_mass: 662 g} # container_mass was 661 g\n');
    const meter = notes(noted, ['--meter', '43920', '--correct']).text;
    expect(meter).toContain(
      '{end: 43920, finished: 2026-03-09T09:10, container_mass: 661 g} # end was 43902\n',
    );
    const air = notes(noted, ['--temperature', '22.4', '--correct']).text;
    expect(air).toContain(
      '{at: 2026-03-09T09:10, temperature: 22.4 °C, humidity: 46 %} # temperature was 21.4 °C\n',
    );
    const jam = ['--event', 'jam', '--meter', '44120'];
    const event = notes(noted, jam, ['--event', 'misfeed', '--meter', '44120', '--correct']).text;
    expect(event).toContain('{at: 44120, kind: misfeed} # kind was jam\n');
    const start = notes(noted, ['--start', '--meter', '41920', '--correct']).text;
    expect(start).toContain('  start: 41920   # before the first page # start was 41902\n');
  });

  it('leaves what is not there yet to be filled in', () => {
    const { text } = notes(TRIAL, START, ['--meter', '43902'], ['--meter', '43902', '--container', '661']);
    expect(text).toContain('  - {end: 43902, finished: 2026-03-09T09:10, container_mass: 661 g}\n');
  });
});

describe('the day a trial begins', () => {
  const planned = TRIAL.replace('started: }', 'started: 2026-03-09}');
  const at = (time: string): string[] => [...START, '--at', time];

  it('is replaced by a time of it', () => {
    expect(notes(planned, at('2026-03-09T08:10')).text).toContain(
      'started: 2026-03-09T08:10} # started was 2026-03-09\n',
    );
    // The clock of the tests is at 2026-03-09T09:10.
    expect(notes(planned, START).text).toContain('started: 2026-03-09T09:10}');
  });

  it('stays where the time is of another day, or one is there', () => {
    const of = (text: string, time: string): Ran => run(['note', 't.yaml', ...at(time)], { 't.yaml': text });
    expect(of(planned, '2026-03-10T08:10').err).toContain('trial.started is read already');
    const timed = notes(planned, at('2026-03-09T08:10')).text;
    expect(of(timed, '2026-03-09T08:20').err).toContain('trial.started is read already');
    expect(notes(planned.replace('03-09', '03-08'), START).text).toContain('started: 2026-03-08}');
  });
});

describe('cartridges that follow one another in a slot', () => {
  const OUT = ['--exhausted', 'black', '--meter', '44000'];
  const NEW = ['--fitted', 'serial=K-2,start_mass=811g'];

  it('are weighed when one is out, and the new one after the run', () => {
    const { text, out } = notes(TRIAL, START, FIRST, [...OUT, '--cartridge', 'black=416.4', ...NEW]);
    expect(text).toContain('{slot: black, start_mass: 812 g, end_mass: 416.4 g, exhausted_at: 44000}');
    expect(text).toContain('- {slot: black, serial: K-2, start_mass: 811 g, end_mass: }\n');
    expect(out).toContain('This is the mass of black at its end.');
    const end = notes(text, ['--end', '--meter', '45902', '--final', '711']);
    expect(end.out).toContain('Next: cartridges[2].end_mass.');
    const weighed = notes(end.text, ['--end', '--cartridge', 'black=730.5']);
    expect(weighed.text).toContain('start_mass: 811 g, end_mass: 730.5 g}');
    expect(weighed.out).toContain('This is the mass of black#2 at its end.');
  });

  it('take the mass of the one that was out later as well', () => {
    const { text } = notes(TRIAL, START, FIRST, [...OUT, ...NEW], [...OUT, '--cartridge', '416.4']);
    expect(text).toContain('{slot: black, start_mass: 812 g, end_mass: 416.4 g, exhausted_at: 44000}');
  });

  it('are left unweighed where no mass is in the trial', () => {
    const bare = TRIAL.replace(', start_mass: 812 g, end_mass', '');
    expect(notes(bare, START, FIRST, [...OUT, '--fitted', 'serial=K-2']).text).toContain(
      '- {slot: black, serial: K-2}\n',
    );
  });
});

describe('what looks like a wrong digit or unit', () => {
  it('is said before what follows from it', () => {
    // 58000 pages of 6000; and a container of 711 kg.
    const far = notes(TRIAL, START, FIRST, ['--meter', '99902', '--no-time']).out.replace(/\s+/g, ' ');
    expect(far).toMatch(
      /Check the digits of the meter: by it 58000 pages .* 58000 pages are printed of 6000/,
    );
    const heavy = notes(TRIAL, START, FIRST, ['--meter', '45902', '--container', '711kg']).out;
    expect(heavy.replace(/\s+/g, ' ')).toMatch(
      /CHECK FIRST .* is more than a cartridge or a waste container weighs.* since the last weighing/,
    );
    const right = notes(TRIAL, START, FIRST, ['--meter', '45902', '--container', '711']).out;
    expect(right).not.toMatch(/check/i);
  });
});

it('says of a batch that the run has not begun', () => {
  const { out, text } = notes(TRIAL, FIRST);
  expect(text).toContain('container_mass: 661 g}');
  expect(out.replace(/\s+/g, ' ')).toContain(
    'The run has not begun: meter.start and waste_container.tare are still to be read (--start).',
  );
});

it('fills in what a new trial leaves empty', () => {
  const { written } = run(['start', 't.yaml', '--slots', 'black', '--pages', '4000']);
  const begun = written['t.yaml'] ?? '';
  const { text } = notes(begun, [...START, '--temperature', '21.4', '--humidity', '46']);
  expect(text).toContain('  - {temperature: 21.4 °C, humidity: 46 %, at: 2026-03-09T09:10}\n');
  expect(text).toContain('  start: 41902\n');
  expect(text).toContain('  tare: 612 g\n');
  expect(text).toContain('  started: 2026-03-09T09:10\n');
  expect(run(['verdict', 't.yaml'], { 't.yaml': text }).code).toBe(2);
});

it('keeps the marks and line ends of another system', () => {
  const text = `\ufeff${TRIAL.replaceAll('\n', '\r\n')}`;
  const { text: noted } = notes(text, ['--start', '--meter', '41902', '--no-time'], ['--event', 'jam']);
  expect(noted).toBe(`${text.replace('start:   #', 'start: 41902   #')}events:\r\n  - {kind: jam}\r\n`);
});

it('leaves a table of its own alone', () => {
  const text = TRIAL.replace('coverage: 5 %', 'coverage: 5 %\nambient: {file: room.csv}');
  const { code, err, written } = run(['note', 't.yaml', '--temperature', '21'], { 't.yaml': text });
  expect([code, written]).toEqual([3, {}]);
  expect(err).toContain('ambient are read from room.csv: write it into that table');
});

it('does not ask for the rest of the file to be mended first', () => {
  const { code, out, err, text } = notes(TRIAL.replace('coverage: 5 %', 'coverge: 5 %'), START);
  expect(code).toBe(0);
  expect(text).toContain('start: 41902');
  expect(out).toContain('Noted in t.yaml:');
  expect(err).toContain('Did you mean "coverage"?');
});

it('does not ask for limits that are out of reach at the machine', () => {
  const { code, err, text } = notes(TRIAL.replace(/limits: .*/, 'limits: gone.yaml'), START);
  expect(code).toBe(0);
  expect(text).toContain('start: 41902');
  expect(err).toContain('gone.yaml');
});

describe('without options', () => {
  it('says what it would ask where nobody can be asked', () => {
    const { code, out } = run(['note', 't.yaml'], { 't.yaml': TRIAL });
    expect(code).toBe(0);
    expect(out).toContain('--tare         Mass of the empty waste container, closed, in g');
    expect(out).toContain('--meter        Meter before the run');
    const during = run(['note', 't.yaml'], { 't.yaml': notes(TRIAL, START, FIRST).text }).out;
    expect(during).toMatch(/^Next: batch 2, to meter 45902\.\n/);
  });

  it('asks one reading at a time, again where an answer is refused', () => {
    const answers = ['41000', '43902', '', '21.4', '46'];
    const asked: string[] = [];
    const ask = (question: string): string | null => {
      asked.push(question);
      return answers.shift() ?? null;
    };
    const text = notes(TRIAL, START).text;
    const { code, written, err } = run(['note', 't.yaml'], { 't.yaml': text }, '', {
      canAsk: () => true,
      ask,
    });
    expect(code).toBe(0);
    expect(asked).toEqual([
      'Meter at the end of batch 1 (planned: 43902): ',
      'Meter at the end of batch 1 (planned: 43902): ',
      'Mass of the waste container, closed, in g: ',
      'Temperature of the air, in °C: ',
      'Relative humidity of the air, in %: ',
    ]);
    expect(err).toContain('41000');
    expect(written['t.yaml']).toContain('- {end: 43902, finished: 2026-03-09T09:10}\n');
    expect(written['t.yaml']).toContain('- {at: 2026-03-09T09:10, temperature: 21.4 °C, humidity: 46 %}\n');
  });

  it('goes on with what comes after the run once that is over', () => {
    const asked: string[] = [];
    const answers = ['47902', '761', '21.4', '46', '401'];
    const text = notes(TRIAL, START, FIRST, [
      '--temperature',
      '21.2',
      '--humidity',
      '45',
      '--at',
      '9:10',
    ]).text;
    const { written, out } = run(
      ['note', 't.yaml'],
      { 't.yaml': text.replace('pages: 6000', 'pages: 4000') },
      '',
      {
        canAsk: () => true,
        ask: (question) => {
          asked.push(question);
          return answers.shift() ?? null;
        },
      },
    );
    expect(asked).toEqual([
      'Meter at the end of the run (planned: 45902): ',
      'Mass of the waste container after the run, closed, in g: ',
      'Temperature of the air, in °C: ',
      'Relative humidity of the air, in %: ',
      'cartridges[1].end_mass (black), in g: ',
    ]);
    // Both readings of the air are one, though others have been taken in the same minute.
    expect(written['t.yaml']).toContain('- {at: 2026-03-09T09:10, temperature: 21.4 °C, humidity: 46 %}\n');
    expect(out).not.toContain('Next:');
  });
});
