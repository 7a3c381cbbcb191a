import { spawn, spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { begun, folderWith, PATIENCE, spawned, TOOL } from '../built.ts';

vi.setConfig({ testTimeout: PATIENCE });

const TRIAL = `trial: Ferry Steps lot 3
meter: {start: 1000, end}
waste_container: {tare: 640 g, final}
events: []
`;

const read = (folder: string): string => readFileSync(join(folder, 't.yaml'), 'utf8');

test('the time is that of the clock on the wall', () => {
  const cwd = folderWith({ 't.yaml': TRIAL });
  const environment = { ...process.env, TZ: 'Etc/GMT-9' };
  const before = Date.now();
  const { status, stderr } = spawnSync(process.execPath, [TOOL, 'note', 't.yaml', '--temperature', '21.4'], {
    cwd,
    encoding: 'utf8',
    env: environment,
    timeout: PATIENCE,
  });
  const after = Date.now();
  expect([status, stderr]).toEqual([0, '']);
  const [, at = ''] = /at: (\d{4}-\d{2}-\d{2}T\d{2}:\d{2}),/.exec(read(cwd)) ?? [];
  // Nine hours east of Greenwich (the sign of these names is turned round).
  const noted = Date.parse(`${at}:00+09:00`);
  expect(noted).toBeGreaterThan(before - 60_000);
  expect(noted).toBeLessThanOrEqual(after);
});

describe('several notes at once', () => {
  test('none is lost without a word', async () => {
    const cwd = folderWith({ 't.yaml': TRIAL });
    const meters = Array.from({ length: 8 }, (_, index) => String(1100 + index));
    const ended = await Promise.all(
      meters.map(async (meter) => {
        const child = begun(['note', 't.yaml', '--event', 'jam', '--meter', meter], cwd);
        const code = await new Promise<number | null>((done) => child.on('close', done));
        return { meter, code };
      }),
    );
    const text = read(cwd);
    for (const { meter, code } of ended) {
      expect([0, 5]).toContain(code);
      expect(text.includes(`at: ${meter}`), meter).toBe(code === 0);
    }
    expect(ended.some(({ code }) => code === 0)).toBe(true);
    expect(readdirSync(cwd)).toEqual(['t.yaml']);
  });

  test('one that was killed holds off nobody', () => {
    const dead = spawnSync(process.execPath, ['-e', '']).pid;
    const cwd = folderWith({ 't.yaml': TRIAL, '.t.yaml.lock': String(dead) });
    expect(spawned(['note', 't.yaml', '--event', 'jam'], { cwd }).status).toBe(0);
    expect(readdirSync(cwd)).toEqual(['t.yaml']);
  });

  test('one that is writing holds off the others', () => {
    const cwd = folderWith({ 't.yaml': TRIAL, '.t.yaml.lock': String(process.pid) });
    const { status, stderr } = spawned(['note', 't.yaml', '--event', 'jam'], { cwd });
    expect(status).toBe(5);
    expect(stderr).toContain('somebody else is writing it');
    expect(read(cwd)).toBe(TRIAL);
  });
});

/** A terminal for the program, whose keys are typed; null where there is none to be had. */
const terminal = spawnSync('script', ['--version']).error === undefined;

describe.skipIf(!terminal)('at a terminal', () => {
  /** What is shown while lines are typed, each once the question is there. */
  async function typed(lines: readonly string[], cwd: string): Promise<string> {
    const command = `${process.execPath} ${TOOL} note t.yaml`;
    const child = spawn('script', ['--quiet', '--return', '--command', command, '/dev/null'], { cwd });
    let shown = '';
    let answered = 0;
    child.stdout.on('data', (piece: Buffer) => {
      shown += piece.toString();
      const asked = shown.split(/: $/m).length - 1;
      const line = lines[answered];
      if (!shown.endsWith(': ') || asked === 0 || line === undefined) return;
      answered += 1;
      shown += '\n';
      child.stdin.write(`${line}\n`);
    });
    await new Promise((done) => child.on('close', done));
    return shown;
  }

  test('asks for what is next, one reading at a time', async () => {
    const cwd = folderWith({ 't.yaml': TRIAL });
    const shown = await typed(['900', '2000', '666', '', '46'], cwd);
    expect(shown).toContain('Meter at the end of batch 1: ');
    expect(shown).toContain('nothing was written');
    expect(shown).toContain('26.00');
    expect(read(cwd)).toMatch(/- \{end: 2000, finished: \d{4}-\d\d-\d\dT\d\d:\d\d, container_mass: 666 g\}/);
    expect(read(cwd)).toMatch(/- \{at: \d{4}-\d\d-\d\dT\d\d:\d\d, humidity: 46 %\}/);
  });
});
