import { spawn, spawnSync, type SpawnSyncReturns } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { ROOT } from './run.ts';

/** The program as people start it: the executable in a process of its own. */

export const TOOL = join(ROOT, 'bin', 'tallytare.js');

/** Long enough for a busy machine; what waits for ever is ended. */
export const PATIENCE = 600_000;

export const spawned = (
  argv: readonly string[],
  options: { readonly cwd?: string; readonly uid?: number; readonly input?: string } = {},
): SpawnSyncReturns<string> =>
  spawnSync(process.execPath, [TOOL, ...argv], { encoding: 'utf8', timeout: PATIENCE, ...options });

/** A script of a shell, with `tallytare` as a command in it. */
export function shell(script: string, cwd: string, program = 'bash'): SpawnSyncReturns<string> {
  const bin = mkdtempSync(join(tmpdir(), 'tallytare-bin-'));
  writeFileSync(join(bin, 'tallytare'), `#!/bin/sh\nexec ${quoted(process.execPath)} ${quoted(TOOL)} "$@"\n`);
  chmodSync(join(bin, 'tallytare'), 0o755);
  const env = { ...process.env, PATH: `${bin}:${process.env['PATH'] ?? ''}` };
  return spawnSync(program, ['-c', script], { encoding: 'utf8', timeout: PATIENCE, cwd, env });
}

const quoted = (path: string): string => `'${path.replaceAll("'", "'\\''")}'`;

/** The program begun, and not waited for. */
export const begun = (argv: readonly string[], cwd: string) =>
  spawn(process.execPath, [TOOL, ...argv], { cwd, stdio: ['ignore', 'pipe', 'pipe'] });

/** A new folder with files in it. */
export function folderWith(files: Readonly<Record<string, string>>): string {
  const folder = mkdtempSync(join(tmpdir(), 'tallytare-'));
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  }
  return folder;
}

/** 12 000 pages and 240 g of waste against 25 g for a thousand: it passes. */
export const passing = (title: string): string =>
  `trial: ${title}\nmeter: {start: 1000, end: 13000}\nwaste_container: {tare: 640 g, final: 880 g}\nlimits: {waste_per_thousand: {max: 25 g}}\n`;

/** As many passing trials, in folders of a hundred. */
export const manyTrials = (count: number): Record<string, string> =>
  Object.fromEntries(
    Array.from({ length: count }, (_, index) => {
      const number = String(index).padStart(5, '0');
      return [`${number.slice(0, 3)}/${number}.yaml`, passing(`lot ${number}`)];
    }),
  );
