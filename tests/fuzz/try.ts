import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { report } from '../../src/commands/report.ts';
import { ROOT, run } from '../run.ts';
import type { Input } from './input.ts';

/** What became of an input. */
export interface Tried {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
  /** The file it wrote. */
  readonly written: string | null;
  /** Processor time it took, which says the same on a busy machine as on an idle one. */
  readonly milliseconds: number;
  /** Peak resident set in MiB; null where it was not measured. */
  readonly peak: number | null;
}

/** An input tried within this process. */
export function tryHere({ argv, files, writes }: Input): Tried {
  const begin = process.cpuUsage();
  const { code, out, err, written } = run(argv, files, '', { report: () => report });
  const { user, system } = process.cpuUsage(begin);
  const milliseconds = (user + system) / 1000;
  return { code, out, err, written: (writes && written[writes]) ?? null, milliseconds, peak: null };
}

const HOOK = join(ROOT, 'tests', 'fuzz', 'report-usage.cjs');
const TOOL = join(ROOT, 'bin', 'tallytare.js');

/** An input tried as a person does, with the executable and files on a disk; takes a built `dist/`. */
export function tryApart({ argv, files, writes }: Input): Tried {
  const folder = mkdtempSync(join(tmpdir(), 'tallytare-fuzz-'));
  try {
    for (const [name, bytes] of Object.entries(files)) {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), bytes);
    }
    const { status, stdout, stderr } = spawnSync(process.execPath, ['--require', HOOK, TOOL, ...argv], {
      cwd: folder,
      encoding: 'utf8',
      maxBuffer: 2 ** 30,
      timeout: 60_000,
      env: { ...process.env, NO_COLOR: '1', NODE_OPTIONS: '' },
    });
    const [, err = stderr, peak, time] = /^([^]*)\n([0-9.]+) ([0-9.]+)$/.exec(stderr) ?? [];
    const wrote = writes !== null && existsSync(join(folder, writes));
    return {
      code: status,
      out: stdout,
      err,
      written: wrote ? readFileSync(join(folder, writes), 'utf8') : null,
      // One that did not end by itself has no exit code, which is fault enough.
      milliseconds: Number(time ?? 0),
      peak: peak === undefined ? null : Number(peak),
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
}
