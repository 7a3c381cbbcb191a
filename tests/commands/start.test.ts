import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { run } from '../run.ts';

const OLD = `# yaml-language-server: $schema=x
trial: Lot 1
meter: {start: 1, end: 2}

# the one by the window
machine:
  label: Heron   # new drum in March
  serial: "0047"
# weighed with a new sheet
paper: {size: A3, grammage: 90 g/m², sheets_used: 10205}
limits: [house.yaml, {waste_mass: {max: 9 g}}]

# something about nothing

ambient: []
`;

describe('a new trial', () => {
  it('is valid as it stands, and the verdict lists what is still to be read', () => {
    const { code, written } = run(['start']);
    expect(code).toBe(0);
    const { out, code: verdict } = run(['verdict', 'trial.yaml'], written);
    expect(verdict).toBe(2);
    for (const reading of ['meter.start', 'meter.end', 'waste_container.tare', 'cartridges[1].start_mass']) {
      expect(out).toContain(`  ${reading} (line`);
    }
  });

  it('holds what the options say', () => {
    const argv = ['start', 'new.yaml', '--lot', '0012', '--slots', 'black, cyan', '--pages', '12000'];
    const { written } = run([...argv, '--machine', 'Heron', '--speed', '30', '--limits', 'office']);
    const file = written['new.yaml'] ?? '';
    expect(file).toContain('title: Lot 0012 in Heron');
    expect(file).toContain('limits: [office]');
    const plan = JSON.parse(run(['plan', 'new.yaml', '--format', 'json'], written).out) as object;
    expect(plan).toMatchObject({ sheets: 12000, hours: '6.66666666667', cartridges: { black: null } });
  });

  it('has a line for each part and each attribute to be looked at, and the care before them', () => {
    const file = run(['start', '-']).out;
    for (const part of ['packaging', 'chip', 'belt', 'waste channel', 'charging unit', 'fuser'])
      expect(file).toMatch(new RegExp(`\\n  - \\{stage: \\w+, part: ${part}, severity: \\}\\n`));
    expect(file.match(/- \{attribute: \w+, stage: last, severity: \}/g)).toHaveLength(11);
    expect(file.indexOf('unplug')).toBeLessThan(file.indexOf('inspection:'));
    const limited = file.replace('  # worst_finding:', '  worst_finding:');
    const verdict = (text: string) => run(['verdict', 't.yaml', '--format', 'json'], { 't.yaml': text }).out;
    const outcome = (text: string): unknown =>
      (JSON.parse(verdict(text)) as { limits: { figure: string; outcome: string }[] }).limits.map(
        (one) => `${one.figure} ${one.outcome}`,
      );
    expect(outcome(limited)).toEqual(['worst_finding open']);
    const minor = limited.replace('part: belt, severity: ', 'part: belt, severity: minor');
    expect(outcome(minor)).toEqual(['worst_finding open']);
    const major = limited.replace('part: belt, severity: ', 'part: belt, severity: major');
    expect(outcome(major)).toEqual(['worst_finding missed']);
    const all = limited.replaceAll(/(part: [\w ]+, severity: )\}/g, '$1none}');
    expect(outcome(all)).toEqual(['worst_finding met']);
  });

  it('begins with the schema', () => {
    expect(run(['start', '-']).out).toMatch(/^# yaml-language-server: \$schema=dist\/trial\.schema\.json\n/);
    expect(run(['start', '/elsewhere/t.yaml']).written['/elsewhere/t.yaml']).toMatch(
      /\$schema=\/.*\/dist\/trial\.schema\.json\n/,
    );
  });

  it('is never written over another file unless told', () => {
    const files = { 'trial.yaml': 'mine' };
    const { code, err, written } = run(['start'], files);
    expect(code).toBe(5);
    expect(err).toContain('there is such a file already; --force replaces it');
    expect(written).toEqual({});
    expect(run(['start', '--force'], files).written['trial.yaml']).toContain('trial:');
  });

  it.each([
    [['--pages', '12,000'], '--pages'],
    [['--pages', '0'], '--pages'],
    [['--coverage', '500'], '--coverage'],
    [['--slots', 'black,bl#ack'], '--slots'],
    [['--slots', 'black,black'], '--slots'],
    [['--slots', 'black,,cyan'], '--slots'],
    [['--started', 'yesterday'], '--started'],
    [['--paper', 'B4'], '--paper'],
    [['--rated-yield', 'many'], '--rated-yield'],
  ])('%j is refused by its name, and nothing is written', (options, name) => {
    const { code, err, out, written } = run(['start', ...options]);
    expect(code).toBe(4);
    expect(err).toContain(`tallytare: ${name}: `);
    expect(out).toBe('');
    expect(written).toEqual({});
  });

  it('takes any text for what it is', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', minLength: 1 }), (title) => {
        // A lot and a serial may hold no character that takes no room.
        fc.pre(title.trim() !== '' && !/\p{Cf}/u.test(title));
        const { code, written } = run(['start', `--title=${title}`, `--lot=${title}`, `--serial=${title}`]);
        expect(code).toBe(0);
        const { out } = run(['verdict', 'trial.yaml', '--format', 'json'], written);
        const { trial } = JSON.parse(out) as { trial: string };
        // Without the blanks around it, its letters composed.
        expect(trial).toBe(title.trim().normalize('NFC'));
      }),
      { numRuns: 100 },
    );
  });
});

describe('from an earlier trial', () => {
  it('takes machine, paper and limits with their comments, and no reading', () => {
    const file = run(['start', 'new.yaml', '--from', 'old.yaml'], { 'old.yaml': OLD }).written['new.yaml'];
    expect(file).toContain(
      '# the one by the window\nmachine:\n  label: Heron   # new drum in March\n  serial: "0047"\n',
    );
    expect(file).toContain(
      '# weighed with a new sheet\npaper: {size: A3, grammage: 90 g/m², sheets_used: }\n',
    );
    expect(file).toContain('limits: [house.yaml, {waste_mass: {max: 9 g}}]');
    expect(file).not.toContain('something about nothing');
    expect(file).not.toContain('$schema=x');
  });

  it('takes over how it was printed, and the slots, unless they are said anew', () => {
    const old = `${OLD.replace('# something about nothing\n', '')}coverage: 7 %\nduplex_share: 40 %\ncartridges: [{slot: black}, {slot: black}, {slot: cyan}]\nwaste_container: {tare: 600 g, capacity: 300 g}\n`;
    const again = (...options: string[]): string =>
      run(['start', '-', '--from', 'old.yaml', ...options], { 'old.yaml': old }).out;
    const file = again();
    expect(file).toContain('coverage: 7 %\nduplex_share: 40 %\n');
    expect(file.match(/- slot: /g)).toHaveLength(2);
    expect(file).toContain('  capacity: 300 g\n');
    expect(file).not.toContain('600 g');
    const anew = again('--slots', 'yellow', '--duplex-share', '10 %');
    expect(anew).toContain('coverage: 5 %\nduplex_share: 10 %\n');
    expect(anew).toContain('- slot: yellow');
  });

  it('takes over who tries it, what is planned, and what the supplier claims', () => {
    const old = `trial: {title: Old, operator: "Mara O'Neil"}
target: {pages: 12000, batch: 1500, spare_paper: 4 %, lot: {limiting_quality: 10 %, consumer_risk: 5 %}}   # agreed
meter: {start: 1, end: 2}
coverage: {black: 5 %, cyan: 5 %}
cartridges:
  - {slot: black, rated_yield: 10500, start_mass: 800 g}
  - {slot: cyan}
  - {slot: cyan, rated_yield: 9000}
  - {slot: drum, rated_yield: 60000, life: pages}
`;
    const again = (...options: string[]): string =>
      run(['start', '-', '--from', 'old.yaml', ...options], { 'old.yaml': old }).out;
    const file = again();
    expect(file).toContain('# Taken over from old.yaml: target, coverage, operator, rated yields.\n');
    expect(file).toContain(`  operator: "Mara O'Neil"\n`);
    expect(file).toContain(
      'target: {pages: 12000, batch: 1500, spare_paper: 4 %, lot: {limiting_quality: 10 %, consumer_risk: 5 %}}   # agreed\n',
    );
    expect(file).toMatch(/- slot: black\n +serial:\n +rated_yield: 10500\n +start_mass:\n/);
    expect(file).toMatch(/- slot: cyan\n +serial:\n +rated_yield: 9000\n/);
    expect(file).toMatch(/- slot: drum\n +serial:\n +life: pages\n +rated_yield: 60000\n +# exhausted_at/);
    expect(file).not.toContain('800 g');
    const anew = again('--operator', 'Ana', '--pages', '9000', '--rated-yield', '8000');
    expect(anew).toContain('  operator: Ana\n');
    expect(anew).toMatch(
      /target:\n {2}pages: 9000\n {2}batch: 1500\n[^]* {2}lot: \{limiting_quality: 10 %, consumer_risk: 5 %\}\n {2}spare_paper: 4 %\n/,
    );
    expect(anew.match(/rated_yield: 8000/g)).toHaveLength(2);
    expect(anew).toContain('rated_yield: 60000');
  });

  it('names limits files as the new file finds them', () => {
    const files = { 'a/old.yaml': OLD, 'a/house.yaml': 'waste_per_thousand: {max: 25 g}\n' };
    const { written } = run(['start', 'b/c/new.yaml', '--from', 'a/old.yaml'], files);
    expect(written['b/c/new.yaml']).toContain('limits: ["../../a/house.yaml", {waste_mass: {max: 9 g}}]');
    const { out } = run(['verdict', 'b/c/new.yaml'], { ...files, ...written });
    expect(out).toContain('waste per thousand pages  at most 25 g');
  });

  it.each([
    ['a cartridge that is not fitted yet', 'toner_per_page: {of: black#2, max: 50 mg}', 'limits:\n# '],
    ['a patch that is still to be measured', 'density_change: {of: solid, max: 0.2}', ' ---\n'],
  ])('keeps limits on %s, as a comment where they could not be read', (_, limit, before) => {
    const old = `${OLD.replace(/limits: .*/, `limits: {${limit}}`)}prints: {patches: [{patch: solid}]}\ncartridges: [{slot: black, removed_at: 2}, {slot: black, installed_at: 2}]\n`;
    const { written } = run(['start', '--from', 'old.yaml'], { 'old.yaml': old });
    expect(written['trial.yaml']).toContain(`${before}limits: {${limit}}\n`);
    expect(run(['verdict', 'trial.yaml', '-q'], written).out).toBe('inconclusive\ttrial.yaml\n');
  });

  it('again and again, without growing', () => {
    const first = run(['start', 'a.yaml', '--from', 'old.yaml'], { 'old.yaml': OLD }).written;
    const second = run(['start', 'b.yaml', '--from', 'a.yaml'], first).written;
    const third = run(['start', 'c.yaml', '--from', 'b.yaml'], second).written;
    const lines = (text: string | undefined): number => text?.split('\n').length ?? 0;
    expect(lines(second['b.yaml'])).toBe(lines(first['a.yaml']));
    expect(lines(third['c.yaml'])).toBe(lines(first['a.yaml']));
  });

  it('refuses an earlier file that is no trial', () => {
    const { code, err, written } = run(['start', '--from', 'old.yaml'], { 'old.yaml': 'meter: 5\n' });
    expect(code).toBe(3);
    expect(err).toContain('old.yaml:1');
    expect(written).toEqual({});
  });

  it('and options for what is taken over', () => {
    expect(run(['start', '--from', 'old.yaml', '--machine', 'x'], { 'old.yaml': OLD }).code).toBe(4);
  });
});
