import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { ROOT } from '../run.ts';
import { type Input, inputOf, readExamples } from './input.ts';
import { type Fault, judge } from './judge.ts';
import { shrink } from './shrink.ts';
import { tryApart, tryHere, type Tried } from './try.ts';

export interface Round {
  readonly seed: number;
  /** Number of the first input. */
  readonly from?: number;
  /** How many are tried at most. */
  readonly count?: number;
  /** Time after which no further one is begun. */
  readonly seconds?: number;
  /** Folder for the smallest inputs that fail. */
  readonly keep?: string;
  /** Told each finding, in lines. */
  readonly say: (text: string) => void;
}

export interface Done {
  readonly inputs: number;
  readonly findings: number;
  /** How often each command ended in each exit code. */
  readonly codes: ReadonlyMap<string, ReadonlyMap<number | null, number>>;
}

/** One input in so many goes through the executable, and each that is larger than this. */
const APART_ONE_IN = 50;
const LARGE_BYTES = 100_000;

/** A fault found over and over is shrunk so often, and then only counted. */
const SHRUNK_EACH = 3;
const SHRINK_SECONDS = 20;

const MEASURED: ReadonlySet<string> = new Set(['slow', 'memory']);

/** Tries an input one way; what was slow is tried again, as a busy machine can slow anything once. */
function faultOf(input: Input, tryIt: (input: Input) => Tried): { fault: Fault | null; tried: Tried } {
  for (let attempt = 1; ; attempt++) {
    const tried = tryIt(input);
    const fault = judge(input, tried);
    if (fault?.kind !== 'slow' || attempt === 3) return { fault, tried };
  }
}

/** The executable must do what the program does within this process. */
function difference(input: Input, here: Tried, apart: Tried): Fault | null {
  if (here.code !== apart.code) return { kind: 'other exit code as a process', detail: String(apart.code) };
  const same = input.writes !== null || (here.out === apart.out && here.err === apart.err);
  return same ? null : { kind: 'other output as a process', detail: apart.out.slice(0, 200) };
}

function findingOf(input: Input, apart: boolean): { fault: Fault | null; code: number | null } {
  const here = faultOf(input, tryHere);
  if (here.fault !== null || !apart) return { fault: here.fault, code: here.tried.code };
  const there = faultOf(input, tryApart);
  return { fault: there.fault ?? difference(input, here.tried, there.tried), code: there.tried.code };
}

/** Tries inputs until count or time is used up. */
export function fuzz({ seed, from = 0, count = Infinity, seconds = Infinity, keep, say }: Round): Done {
  const examples = readExamples(ROOT);
  const codes = new Map<string, Map<number | null, number>>();
  const met = new Map<string, number>();
  const end = performance.now() + seconds * 1000;
  let [number, findings] = [from, 0];
  for (; number < from + count && performance.now() < end; number++) {
    const input = inputOf(seed, number, examples);
    const size = Object.values(input.files).reduce((sum, { length }) => sum + length, 0);
    const apart = number % APART_ONE_IN === 0 || size > LARGE_BYTES;
    const { fault, code } = findingOf(input, apart);
    const command = input.argv[0] ?? '';
    const ended = codes.get(command) ?? new Map<number | null, number>();
    codes.set(command, ended.set(code, (ended.get(code) ?? 0) + 1));
    if (fault === null) continue;
    findings += 1;
    const sort = `${fault.kind} ${command}`;
    met.set(sort, (met.get(sort) ?? 0) + 1);
    say(
      `seed ${seed}, number ${number}: ${fault.kind}\n  tallytare ${input.argv.join(' ')}\n  ${fault.detail}\n`,
    );
    if (keep === undefined || (met.get(sort) ?? 0) > SHRUNK_EACH) continue;
    const fails = (one: Input): boolean => findingOf(one, apart).fault?.kind === fault.kind;
    const small = shrink(input, fails, apart || MEASURED.has(fault.kind) ? 200 : 5000, SHRINK_SECONDS);
    say(`  smallest: ${write(small, fault, join(keep, `${seed}-${number}`))}\n`);
  }
  return { inputs: number - from, findings, codes };
}

/** Writes an input to a folder, with the command line and the fault beside it. */
function write({ argv, files }: Input, fault: Fault, folder: string): string {
  mkdirSync(folder, { recursive: true });
  for (const [name, bytes] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), bytes);
  }
  writeFileSync(join(folder, 'finding.txt'), `tallytare ${argv.join(' ')}\n${fault.kind}\n${fault.detail}\n`);
  return folder;
}
